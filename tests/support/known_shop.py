"""A shop whose leathers' true kept fractions are known: its book filled by chance, and what its
next boots would really do.
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from support import plain_policy
from support.assess_jobs import shaft

from fitcounter.fit.assessment.assess import assess, read_job
from fitcounter.fit.assessment.kept_fraction import Kept, MeasuredRound, corrected, growth_mm
from fitcounter.fit.assessment.opening_ahead import Stand, next_opening
from fitcounter.store.database import Store, utc_text

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)
TRUTHS = {
    "supple-full-grain": (0.40, 0.11),
    "nubuck": (0.44, 0.10),
    "full-grain": (0.36, 0.11),
}  # mean and spread of kept after 24 h; the table says .50
READING_MM = 1.5
TOLERANCE_MM = 3.175
MOST = 6


def finish_boots(store: Store, chance: random.Random, boots: int) -> dict[str, list[float]]:
    """So many boots, two rounds of a day each, every reading with its doubt.

    Returns the true fractions by leather.
    """
    drawn: dict[str, list[float]] = {code: [] for code in TRUTHS}
    with store.write_tx():
        customer = store.insert("customers", name="x", name_key=" x", created_at=utc_text(NOW))
        for n in range(boots):
            code = list(TRUTHS)[n % len(TRUTHS)]
            kept = chance.gauss(*TRUTHS[code])
            drawn[code].append(kept)
            _finish(store, chance, customer, n, code, kept)
    return drawn


def _finish(
    store: Store, chance: random.Random, customer: int, n: int, code: str, kept: float
) -> None:
    ticket = store.insert(
        "tickets",
        number=1 + n % 999,
        customer_id=customer,
        opened_at=utc_text(NOW),
        currency="USD",
        state="out",
    )
    boot = {
        "ticket_id": ticket,
        "letter": "A",
        "kind": "boot",
        "side": "left",
        "work": "stretch",
        "description": "x",
        "state": "out",
    }
    item = store.insert("items", **boot, material=code, since=utc_text(NOW))
    for number in (1, 2):
        opening = chance.uniform(14, 24)
        gain = opening * plain_policy.kept(kept, 24, number) + chance.gauss(
            0, READING_MM * math.sqrt(2)
        )
        row_id = store.insert(
            "rounds",
            item_id=item,
            n=number,
            prepared="conditioned",
            before_um=360_000,
            rested_method="outside",
            on_at=utc_text(NOW),
            off_at=utc_text(NOW + timedelta(hours=24)),
            rested_um=round(1000 * (360 + gain)),
            rested_at=utc_text(NOW + timedelta(hours=50)),
        )
        store.insert(
            "turns", round_id=row_id, n=1, at=utc_text(NOW), girth_um=round(1000 * (360 + opening))
        )


@dataclass(frozen=True)
class Told:
    """A new boot as it was answered at the counter. within: told P(done within 1, 2, 3 rounds)."""

    code: str
    stand: Stand
    within: tuple[float, float, float]


def ask(chance: random.Random, records: Mapping[str, Kept]) -> Told:
    """A boot nobody knows, short by a gap or an amount, answered as at the counter with what the
    book has learnt.
    """
    code = chance.choice(list(TRUTHS))
    need, girth = chance.uniform(6, 34), chance.uniform(310, 400)
    by_gap = chance.random() < 0.5
    side = {
        "target": "gap" if by_gap else "amount",
        "boot": shaft(("100", f"{girth:.1f}"), ("400", f"{girth:.1f}")),
    }
    side["gaps" if by_gap else "amounts"] = [
        {"height": "300", "gap" if by_gap else "amount": f"{need:.2f}"}
    ]
    boot = {
        "material": code,
        "rigid": [{"name": "backstay", "width_mm": 30, "from_mm": 0, "to_mm": 500}],
    }
    job = {
        "unit": "mm",
        "boot": boot,
        "left": side,
        "right": side,
        "limits": "usual",
        "hold_h": 168,
        "records": {
            leather: {"mean": learnt.mean, "sd": learnt.sd, "boots": learnt.boots}
            for leather, learnt in records.items()
        },
    }
    course = assess(read_job(job, ("left",))).sides[0].verdict.course
    assert course is not None
    return Told(
        code, course.stand, (course.odds.within(1), course.odds.within(2), course.odds.within(3))
    )


def true_rounds(chance: random.Random, told: Told) -> int:
    """What the boot takes: fraction and error of its first reading drawn from what is true, a plain
    bench followed step by step.
    """
    stand = told.stand
    boot = plain_policy.Boot(
        stand.first_mm,
        stand.leather_mm,
        stand.girth_mm,
        stand.need_mm,
        stand.need_u_mm,
        stand.round_strain,
        stand.ceiling_strain,
        stand.zip_strain,
        stand.seam_strain,
        stand.tree_mm,
        stand.kept.mean,
        stand.kept.sd,
        stand.hold_h,
        stand.lived,
    )
    error = chance.gauss(0, READING_MM)
    return plain_policy.follow(boot, chance.gauss(*TRUTHS[told.code]), error, chance).rounds


def rounds_by_readings(chance: random.Random, told: Told) -> int:
    """What the bench takes that goes by its own readings: each with its doubt, openings by the
    program, done when the tape says so.
    """
    kept, prior, rounds = chance.gauss(*TRUTHS[told.code]), told.stand.kept, list[MeasuredRound]()
    true, read = 300.0, chance.gauss(300.0, READING_MM)
    while (left := told.stand.need_mm - growth_mm(rounds)) > TOLERANCE_MM and len(rounds) <= MOST:
        stand = replace(
            told.stand,
            girth_mm=told.stand.first_mm + growth_mm(rounds),
            need_mm=left,
            kept=corrected(prior, rounds),
            lived=len(rounds),
        )
        opening = next_opening(stand).opening_mm
        if opening <= 0:
            return MOST + 1
        before = read
        true += opening * plain_policy.kept(kept, stand.hold_h, len(rounds) + 1)
        read = chance.gauss(true, READING_MM)
        rounds.append(MeasuredRound(before, before + opening, read, "outside", stand.hold_h))
    return len(rounds)


def compare(
    chance: random.Random, records: Mapping[str, Kept], boots: int, draws: int
) -> dict[int, tuple[float, float, float]]:
    """For 1, 2, 3 rounds: mean told P(≤ n), the share that is done by its true girth, and the share
    done by the bench's readings.
    """
    asked = [ask(chance, records) for _ in range(boots)]
    true = [true_rounds(chance, told) for told in asked for _ in range(draws)]
    read = [rounds_by_readings(chance, told) for told in asked for _ in range(draws)]
    return {
        n: (
            sum(told.within[n - 1] for told in asked) / boots,
            sum(one <= n for one in true) / len(true),
            sum(one <= n for one in read) / len(read),
        )
        for n in (1, 2, 3)
    }
