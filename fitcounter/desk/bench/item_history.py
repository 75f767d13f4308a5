"""An item's history as lines: what happened, when, when it was saved, by whom, and what was
read.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from fitcounter.desk.bench.round_checks import REASONS
from fitcounter.fit import item_states
from fitcounter.fit.assessment.words import on_shaper
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.fit.tape import say_length
from fitcounter.store.bench_records import StepRow

CAME_OUT = {"dropped": "it dropped out", "eased": "it eased out", "gripped": "the tree gripped"}
PREPARED = {"conditioned": "conditioned", "dry": "dry, as it is"}
OUTCOMES = {"customer": "the customer", "part": "a part", "sent-out": "sent out"}


@dataclass(frozen=True, slots=True)
class Line:
    """One step.

    saved_at: where it was saved later than it happened. recorded: no, where it was caught up.
    undone: taken back.
    """

    step_id: int
    happened_at: str
    saved_at: str
    head: str
    text: str
    who: str
    recorded: bool
    undone: bool


def lines(rows: Sequence[StepRow], people: Mapping[int, str], unit: str) -> list[Line]:
    """Newest first. people: names by id. unit: for lengths."""
    return [_line(row, people, unit) for row in reversed(rows)]


def _line(row: StepRow, people: Mapping[int, str], unit: str) -> Line:
    head, text = _words(row.step, row.to_state, row.detail, unit)
    late = row.saved_at[:16] != row.happened_at[:16]
    who = people.get(row.staff_id or 0, "")
    return Line(
        row.id,
        row.happened_at,
        row.saved_at if late else "",
        head,
        text,
        who,
        bool(row.recorded),
        row.undone_at is not None,
    )


@lru_cache(maxsize=4096)
def _words(step: str, to_state: str, details: str, unit: str) -> tuple[str, str]:
    """Head and text of a step: they never change, and a boot's page is opened at every scan."""
    detail: dict[str, Any] = json.loads(details)
    if step == "catch-up":
        return item_states.WORDS[to_state].capitalize(), "not recorded"
    known = item_states.STEPS.get(step)
    head = HEADS.get(step) or (known.words if known else step.capitalize())
    return _WRITERS[step](head, detail, unit) if step in _WRITERS else (head, "")


def _prepared(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, PREPARED.get(detail.get("prepared", ""), "")


def _put_on(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    girth = _length(detail, "on_tree_um", unit)
    read = f"{girth} on the tree" if girth else "not read on the tree"
    return f"On tree {detail.get('tree', '')}", _joined(read, _setting(detail), _over(detail))


def _turned_up(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    girth = _length(detail, "on_tree_um", unit)
    read = f"{girth} on the tree" if girth else ""
    return head, _joined(read, _setting(detail), _over(detail))


def _taken_off(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, CAME_OUT.get(detail.get("came_out", ""), "")


def _rested(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    early = "" if detail.get("counts", True) else "read too early: kept, does not count"
    girth = _length(detail, "rested_um", unit)
    return f"Rested at {girth}", _joined(f"round {detail['round']}", early)


def _shelved(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    if not detail.get("shelf"):
        return head, ""
    return f"On shelf {detail['shelf']}", _shaper(detail)


def _finished(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, _shaper(detail)


def _left_on(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, f"until {detail.get('until', '')}"


def _waits(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, OUTCOMES.get(detail.get("waits_for", ""), "")


def _came_back(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, _changed(detail, unit)


# Steps whose head is not the word of their button.
HEADS = {
    "prepare": "Prepared",
    "turn-up": "Turned up",
    "take-off": "Off the tree",
    "leave-on": "Left on its tree",
    "stop": "Stopped: something went wrong",
    "wait": "Waits",
}
# Step → its head and text, from the head as above, the step's detail and the unit of lengths.
_WRITERS: dict[str, Callable[[str, dict[str, Any], str], tuple[str, str]]] = {
    "prepare": _prepared,
    "put-on": _put_on,
    "turn-up": _turned_up,
    "take-off": _taken_off,
    "measure-again": _rested,
    "early-reading": _rested,
    "shelve": _shelved,
    "finish": _finished,
    "leave-on": _left_on,
    "come-back": _came_back,
    "wait": _waits,
}


def _length(detail: dict[str, Any], name: str, unit: str) -> str:
    """A length of the detail in words, "" where it has none."""
    return say_length(detail[name] / UM_PER_MM, unit) if detail.get(name) else ""


def _shaper(detail: dict[str, Any]) -> str:
    return on_shaper(detail["shaper"]) if detail.get("shaper") else ""


def _changed(detail: dict[str, Any], unit: str) -> str:
    """What was read when it came back: 'the boot 1/4 in smaller than at pickup; under the
    guarantee'.
    """
    change = detail.get("boot_change_um")
    size = "" if change is None else say_length(abs(change) / UM_PER_MM, unit)
    if change is None:
        boot = ""
    elif size.startswith(("0 ", "0.0 ")):
        boot = "the boot is as at pickup"
    else:
        boot = f"the boot is {size} {'smaller' if change < 0 else 'larger'} than at pickup"
    return _joined(
        boot, "under the guarantee" if detail.get("under_guarantee") else "the guarantee is over"
    )


def _setting(detail: dict[str, Any]) -> str:
    return f"setting {detail['setting']}" if detail.get("setting") else ""


def _over(detail: dict[str, Any]) -> str:
    return (
        f"past the limit: {dict(REASONS).get(detail['over'], detail['over']).lower()}"
        if detail.get("over")
        else ""
    )


def _joined(*parts: str) -> str:
    return "; ".join(part for part in parts if part)
