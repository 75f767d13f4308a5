"""The same on the other boot: what was just done on one boot of a pair, offered for the other with
what was typed.
"""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.desk.bench.item_page import Look
from fitcounter.desk.shop import Shop
from fitcounter.fit import item_states
from fitcounter.store.database import utc_time

# Steps that are saved for the other boot with one tap; the rest open its form.
ONE_TAP = ("prepare", "take-off", "another-round", "done", "finish", "shelve")
FORMS = ("put-on", "turn-up", "measure-again")


class Same(NamedTuple):
    """step: for the other boot. typed: its form's fields, None where the form is to be opened."""

    item_id: int
    side: str
    step: item_states.Step
    typed: dict[str, str] | None


def same_for_other(look: Look, shop: Shop, did: str) -> Same | None:
    """did: the step just saved. None where there is no other boot that waits for the same step."""
    other, last = look.other, look.history[0] if look.history else None
    if (
        other is None
        or other.side is None
        or last is None
        or did not in (*ONE_TAP, *FORMS)
        or not item_states.may(other.state, did)
    ):
        return None
    typed = (
        {**_when(last.happened_at, last.saved_at, shop), **_typed(look, did)}
        if did in ONE_TAP and not _early(look, shop, did)
        else None
    )
    return Same(other.id, other.side, item_states.STEPS[did], typed)


def _early(look: Look, shop: Shop, did: str) -> bool:
    """Taken off before its day: why the other boot comes off too is asked on its own."""
    turn = look.rounds[-1].row if look.rounds else None
    if did != "take-off" or turn is None or turn.due_off_at is None or turn.off_at is None:
        return False
    off, due = (shop.local(utc_time(at)) for at in (turn.off_at, turn.due_off_at))
    return off.date() < due.date()


def _when(happened_at: str, saved_at: str, shop: Shop) -> dict[str, str]:
    """The same time for both, where the first was not just now."""
    if not saved_at:
        return {"happened": "now"}
    return {
        "happened": "time",
        "happened_time": shop.local(utc_time(happened_at)).strftime("%Y-%m-%dT%H:%M"),
    }


def _typed(look: Look, did: str) -> dict[str, str]:
    turn = look.rounds[-1].row if look.rounds else None
    if did == "prepare" and turn is not None:
        return {"prepared": turn.prepared, "prepared_with": turn.prepared_with}
    if did in ("finish", "shelve"):
        return {"shelf": look.item.shelf} if did == "shelve" else {}
    return {}
