"""One page never shows two values for one quantity: over random boots in every state at the bench,
what has one name has one value.
"""

from __future__ import annotations

import json
import re
from collections import defaultdict
from random import Random

import pytest
from support.bench_cast import pair, um
from support.cast import Clock, Counter
from support.page_figures import figures

from fitcounter.desk.bench.item_page import AT_BENCH
from fitcounter.store.database import Act, Store

PAIRS = 10  # a state of the bench each, and some twice
MANY = 150  # three hundred boots
AT = "2026-03-18T10:00:00Z"


def random_boot(store: Store, chance: Random, item_id: int, state: str) -> None:
    """Girths of leg and boot by chance; rounds that were read; the mark at any height."""
    store.change("items", item_id, state=state, mark_um=chance.choice([None, 266_700, 317_500]))
    for row in store.rows("SELECT * FROM boot_readings WHERE item_id = ?", item_id):
        mm = row["girth_um"] // 1000 + chance.randint(-25, 12)
        store.db.execute(
            "UPDATE boot_readings SET girth_um = ?, girth_text = ?, unit = 'mm' WHERE item_id = ?"
            " AND moment = ? AND height_um = ? AND repeat = ?",
            [mm * 1000, f"{mm} mm", item_id, row["moment"], row["height_um"], row["repeat"]],
        )
    before = um("14 3/8")
    for number in range(1, chance.randint(1, 3) + 1):
        on_tree = before + chance.randint(5, 14) * 1000
        rested = before + round((on_tree - before) * chance.uniform(0.1, 0.8))
        last = state in ("on-tree", "resting")
        read = {} if last and number > 1 else {"rested_um": rested, "rested_text": "14 1/2"}
        round_id = store.insert(
            "rounds",
            item_id=item_id,
            n=number,
            mark_um=266_700,
            before_um=before,
            before_text="14 3/8",
            on_at=AT,
            off_at=None if state == "on-tree" and not read else AT,
            outcome="another" if read and number < 3 else "",
            **read,
        )
        store.insert("turns", round_id=round_id, n=1, at=AT, girth_um=on_tree, girth_text="15")
        if not read:
            break
        before = rested


@pytest.fixture
def told() -> dict[str, int]:
    return defaultdict(int)


@pytest.mark.parametrize("pairs", [PAIRS, pytest.param(MANY, marks=pytest.mark.slow)])
def test_equal_names_have_equal_values(
    owner: Counter, store: Store, clock: Clock, told: dict[str, int], pairs: int
) -> None:
    chance = Random(pairs)
    for number in range(1, pairs + 1):
        made = pair(store, Act(clock.now), number, name=f"Customer {number}")
        with store.write_tx():
            for row in store.rows("SELECT * FROM leg_readings WHERE fit_id = ?", made.fit_id):
                mm = row["height_um"] // 1000 + chance.randint(-20, 0)
                store.db.execute(
                    "UPDATE leg_readings SET height_um = ?, height_text = ? WHERE fit_id = ? AND"
                    " side = ? AND height_um = ? AND repeat = ?",
                    [
                        mm * 1000,
                        f"{mm} mm",
                        made.fit_id,
                        row["side"],
                        row["height_um"],
                        row["repeat"],
                    ],
                )
            for n, item_id in enumerate((made.left, made.right)):
                random_boot(store, chance, item_id, AT_BENCH[(2 * number + n) % len(AT_BENCH)])
        for item_id in (made.left, made.right):
            for address in (f"/items/{item_id}", f"/items/{item_id}?did=measure-again"):
                check(address, owner.get(address).text, told)
        page = owner.get(f"/fits/{made.fit_id}/verdict").text
        for half in sides(page):
            check(f"fit {made.fit_id}", half, told)
    assert told["short"] > pairs, "most of these boots are short"


def check(address: str, page: str, told: dict[str, int]) -> None:
    """Raises AssertionError where a name has two values."""
    values = defaultdict(set)
    for name, inches in figures(page):
        values[name].add(inches)
        told[name] += 1
    different = {name: sorted(map(str, some)) for name, some in values.items() if len(some) > 1}
    assert not different, (address, json.dumps(different))


def sides(page: str) -> list[str]:
    """What is said of each of the two boots: its table, its reasons, the drawing in words."""
    named = re.findall(r"<desc.*?</desc>", page, re.DOTALL)[0]
    found = []
    for side, word in (("left", "Left"), ("right", "Right")):
        start = page.index(f'<section class="col" aria-labelledby="v-{side}"')
        table = page[start : page.index("</section>", start)]
        reasons = re.findall(rf"<li>(?:{word}|Both): .*?</li>", page, re.DOTALL)
        told = re.search(
            rf"{word} boot: .*?(?={'Right boot' if side == 'left' else '</desc'})", named
        )
        found.append(" | ".join([table, *reasons, told[0] if told else ""]))
    return found
