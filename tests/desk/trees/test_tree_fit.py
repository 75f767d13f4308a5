"""One test for what fits a boot: the trees that the plan books are trees that the step takes."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from random import Random

import pytest
from support.bench_cast import Pair, pair, tree
from support.cast import Clock

from fitcounter.desk.assessment.standing import standing
from fitcounter.desk.bench import arrive_done_shelve, put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_hints import put_on_hints
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.plan import plan_keeping
from fitcounter.desk.rounds.rested_reading import RestedReading, measure_again
from fitcounter.desk.rounds.round_seen import rounds_of
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_choice
from fitcounter.errors import BadInput
from fitcounter.store import items, plans, trees
from fitcounter.store.database import Act, Store

SETTINGS = (0, 10_000)
HEIGHTS_UM = (140_000, 200_000, 266_700, 330_000, 390_000)


def random_tree(store: Store, random: Random, label: str, side: str) -> None:
    """A tree known by one girth, by both, by readings all along, or by its size alone."""
    closed = random.randint(290_000, 375_000)
    most = closed + random.randint(15_000, 70_000)
    known = random.choice(["size", "closed", "open", "both", "readings"])
    columns: dict[str, object] = {}
    if known in ("closed", "both", "readings"):
        columns["closed_um"] = closed
    if known in ("open", "both", "readings"):
        columns["open_um"] = most
    if known == "readings":
        columns |= {"closed_setting_milli": SETTINGS[0], "open_setting_milli": SETTINGS[1]}
    tree_id = tree(store, label, side, shift_most_um=random.choice([0, 25_400]), **columns)
    if known != "readings":
        return
    with store.write_tx():
        for height_um in HEIGHTS_UM:
            narrower = random.randint(0, 45_000)
            for setting, girth_um in zip(SETTINGS, (closed, most), strict=True):
                store.insert(
                    "tree_calibration",
                    tree_id=tree_id,
                    setting_milli=setting,
                    height_um=height_um,
                    girth_um=girth_um - narrower,
                    source="bare",
                    read_at="2026-03-01T10:00:00Z",
                )


def random_boots(store: Store, random: Random, clock: Clock) -> Pair:
    """A measured pair, wider or narrower than the usual one, of some leather."""
    boots = pair(store, Act(clock.now))
    leather = random.choice(["full-grain", "supple-full-grain", "goat"])
    sixteenth_um = 25_400 / 16
    with store.write_tx():
        for height_um in (165_100, 266_700, 368_300):
            wider_um = round(random.randint(-10, 10) * sixteenth_um)
            store.db.execute(
                "UPDATE boot_readings SET girth_um = girth_um + ? WHERE height_um = ?",
                [wider_um, height_um],
            )
        store.db.execute("UPDATE boot_readings SET girth_text = round(girth_um / 25400.0, 4)")
        store.db.execute("UPDATE items SET material = ?, mark_um = NULL", [leather])
    return boots


def step_on_the_day(
    store: Store, choices: Shop, clock: Clock, item_id: int, label: str, random: Random
) -> None:
    """A whole round on the tree that the plan booked, filled in as the form is."""
    item = items.get(store, item_id)
    found = standing(store, item)
    seen = rounds_of(store, item_id)
    hints = put_on_hints(store, choices, item, seen, found)
    ranked = tree_choice.ranked(store, item, choices.unit, frozenset())
    opened = label in ranked.labels and hints.planned and random.random() < 0.7
    typed = PutOn(
        label,
        before=hints.before if opened or random.random() < 0.8 else "",
        on_tree=hints.planned if opened and (hints.before or hints.by_rested) else "",
        method=seen[-1].row.method if seen else "outside",
        mark=hints.mark,
        shift=str(hints.shift_um) if hints.shift_um else "",
    )
    put_on_turn_up_take_off.put_on(
        store, Act(clock.now), choices, item_id, StepInput(clock.now), typed
    )
    clock.on(days=8)
    put_on_turn_up_take_off.take_off(store, Act(clock.now), item_id, StepInput(clock.now))
    clock.on(hours=30)
    assert found is not None
    girth = found.place_at(None).girth_mm + random.uniform(1.0, 6.0)
    read = RestedReading(f"{girth / 25.4:.2f}", "inside", tape_right=True)
    measure_again(store, Act(clock.now), choices, item_id, StepInput(clock.now), read)
    arrive_done_shelve.another_round(store, Act(clock.now), item_id, StepInput(clock.now))


@pytest.mark.parametrize(
    "seed", [*range(20), *(pytest.param(seed, marks=pytest.mark.slow) for seed in range(20, 60))]
)
def test_every_tree_that_the_plan_books_is_taken_on_its_day(
    store: Store, choices: Shop, clock: Clock, seed: int
) -> None:
    """Random boots, random trees, up to six rounds: on the day of a booking the boot goes on that
    tree, and no step refuses it.
    """
    random = Random(seed)
    sides = ["left", "right", *random.choices(["left", "right", "either"], k=random.randint(0, 3))]
    for number, side in enumerate(sides):
        random_tree(store, random, f"T{number}", side)
    boots = random_boots(store, random, clock)
    labels = {one.id: one.label for one in trees.everyone(store)}
    for _ in range(6):
        plan_keeping.renew(store, Act(clock.now))
        booked = sorted(
            (one for one in plans.bookings(store) if one.kind == "planned"),
            key=lambda one: one.from_day,
        )
        if not booked:
            break
        first = booked[0]
        day = date.fromisoformat(first.from_day)
        clock.now = max(clock.now, datetime.combine(day, time(16), UTC))
        assert first.item_id in (boots.left, boots.right)
        step_on_the_day(store, choices, clock, first.item_id, labels[first.tree_id], random)
    assert clock.now - datetime(2026, 3, 17, tzinfo=UTC) < timedelta(days=365)


def test_a_tree_that_opens_too_much_away_from_the_mark_is_asked_about(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Within the limits at the mark and past them higher up: the step says where, as the ranking
    does, and goes on with a reason.
    """
    tree_id = tree(store, "flared", closed_setting_milli=0, open_setting_milli=10_000)
    with store.write_tx():
        for height_um, most_um in ((165_100, 330_000), (266_700, 390_000), (368_300, 400_000)):
            for setting, girth_um in ((0, 300_000), (10_000, most_um)):
                store.insert(
                    "tree_calibration",
                    tree_id=tree_id,
                    setting_milli=setting,
                    height_um=height_um,
                    girth_um=girth_um,
                    source="bare",
                    read_at="2026-03-01T10:00:00Z",
                )
    ranked = tree_choice.ranked(store, items.get(store, boots.left), choices.unit)
    assert "flared" not in ranked.labels

    typed = PutOn("flared", before="14 3/8", on_tree="15 5/16")
    with pytest.raises(BadInput, match=r"At 14½ in the boot would open .* pick a reason") as asked:
        put_on_turn_up_take_off.put_on(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), typed
        )
    assert asked.value.field == "override_why"

    on = replace(typed, override_why="master-looked")
    put_on_turn_up_take_off.put_on(
        store, Act(clock.now), choices, boots.left, StepInput(clock.now), on
    )
    assert items.get(store, boots.left).state == "on-tree"


def test_a_boot_that_no_tree_fits_has_no_tree_booked(
    store: Store, choices: Shop, clock: Clock
) -> None:
    """Wide open they are all narrower than the boot: the plan says so and promises no day."""
    tree(store, "4", open_um=300_000)
    tree(store, "5", "right", open_um=300_000)
    boots = pair(store, Act(clock.now))
    plan = plan_keeping.renew(store, Act(clock.now))
    assert dict(plan.unplanned) == {
        str(item_id): "No tree in use fits this boot." for item_id in (boots.left, boots.right)
    }
    assert [one for one in plans.bookings(store) if one.kind == "planned"] == []
