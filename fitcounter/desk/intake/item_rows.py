"""The rows of a job's items: a fit and its boots, with the guesses of their leather class where
nothing was measured, and the other things.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from fitcounter.desk.assessment.limits import leather_of
from fitcounter.desk.common.leather_presets import ZIP_FROM_UM, ZIP_TO_UM, Guess, guess
from fitcounter.desk.common.seen_at_intake import SIGHTS
from fitcounter.desk.common.state_changes import StepInput, write_step
from fitcounter.desk.intake.job_records import Boots, NewJob, Seen, Thing
from fitcounter.desk.shop import Shop
from fitcounter.store import findings, items
from fitcounter.store.database import Act, Store, utc_text

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
NOON, AFTERNOON = 12, 16


def add_items(store: Store, act: Act, shop: Shop, ticket_id: int, job: NewJob) -> int | None:
    """The items of a job on a ticket that is there, inside a write; returns the fit of the
    boots.
    """
    used = len({one.letter for one in items.of_ticket(store, ticket_id)})
    fit_id = None
    if job.boots is not None:
        fit_id = _add_fit(store, act, shop, ticket_id, job)
        for side in job.boots.sides:
            item_id = _add_boot(store, act, ticket_id, fit_id, LETTERS[used], side, job.boots)
            _begin(store, act, item_id, job)
        used += 1
    for number, thing in enumerate(job.things):
        _begin(store, act, _add_thing(store, act, ticket_id, LETTERS[used + number], thing), job)
    return fit_id


def part_of_day(hour: int) -> str:
    """morning, midday or evening on the shop's clock: legs grow through the day."""
    return "morning" if hour < NOON else "midday" if hour < AFTERNOON else "evening"


def _add_fit(store: Store, act: Act, shop: Shop, ticket_id: int, job: NewJob) -> int:
    taken = {
        "unit": shop.unit,
        "limits": shop.limits,
        "hold_h": shop.hold_h,
        "max_rounds": shop.max_rounds,
    }
    return store.insert(
        "fits",
        ticket_id=ticket_id,
        **taken,
        over=job.worn_with or "skin",
        part_of_day=part_of_day(shop.local(act.at).hour),
    )


def _add_boot(
    store: Store, act: Act, ticket_id: int, fit_id: int, letter: str, side: str, boots: Boots
) -> int:
    own = [one for one in boots.seen if one.side == side]
    taken = guess(leather_of(store, boots.material), boots.lining)
    item_id = store.insert(
        "items",
        ticket_id=ticket_id,
        fit_id=fit_id,
        letter=letter,
        kind="boot",
        side=side,
        work="stretch",
        description=boots.description,
        material=boots.material,
        lining=boots.lining,
        closure=boots.closure,
        target=boots.target,
        state="expected",
        since=utc_text(act.at),
        age=_first((SIGHTS[one.word].age for one in own if one.word in SIGHTS), "sound"),
        signed_off=int(boots.signed_off),
        throat_um=boots.throat_um,
        **_measures(boots, taken),
        zip=_zip(boots, own, taken),
        elastic=_elastic(boots),
        rigid=_rigid(boots),
    )
    for one in own:
        findings.add(store, act, item_id, one.word, place=one.place)
    return item_id


def _measures(boots: Boots, taken: Guess) -> dict[str, int]:
    thickness = taken.thickness_um if boots.thickness_um is None else boots.thickness_um
    lining = taken.lining_um if boots.lining_um is None else boots.lining_um
    wall = thickness + lining if boots.wall_um is None else boots.wall_um
    return {"thickness_um": thickness, "lining_um": lining, "wall_um": wall}


def _zip(boots: Boots, own: Sequence[Seen], taken: Guess) -> str:
    if boots.closure != "zip":
        return ""
    states = [SIGHTS[one.word].zip_state for one in own if one.word in SIGHTS]
    state = "damaged" if "damaged" in states else "worn" if "worn" in states else "sound"
    band = taken.zip_band_um if boots.zip_band_um is None else boots.zip_band_um
    return json.dumps({"band_um": band, "from_um": ZIP_FROM_UM, "to_um": ZIP_TO_UM, "state": state})


def _elastic(boots: Boots) -> str:
    return (
        json.dumps({"width_um": boots.elastic_um, "from_um": 0, "to_um": ZIP_TO_UM})
        if boots.elastic_um
        else ""
    )


def _rigid(boots: Boots) -> str:
    strips: list[dict[str, Any]] = []
    if boots.backstay_um:
        strips.append(
            {"name": "backstay", "width_um": boots.backstay_um, "from_um": 0, "to_um": ZIP_TO_UM}
        )
    return json.dumps(strips)


def _add_thing(store: Store, act: Act, ticket_id: int, letter: str, thing: Thing) -> int:
    day = thing.promised_day.isoformat() if thing.promised_day else None
    return store.insert(
        "items",
        ticket_id=ticket_id,
        letter=letter,
        kind=thing.kind,
        work="other",
        description=thing.description,
        jobs=thing.jobs,
        promised_day=day,
        state="expected",
        since=utc_text(act.at),
    )


def _begin(store: Store, act: Act, item_id: int, job: NewJob) -> None:
    """What is here has arrived; what comes later is expected on its day."""
    if job.arrives is None:
        write_step(store, act, items.get(store, item_id), "arrive", StepInput(act.at))
    else:
        store.change("items", item_id, waits_for=job.arrives.isoformat())


def _first(words: Any, otherwise: str) -> str:
    return next((word for word in words if word), otherwise)
