"""An item's history as lines: what happened, when, when it was saved, by whom, and what was
read.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from fitcounter.desk.bench.round_checks import REASONS
from fitcounter.fit import item_states
from fitcounter.fit.assessment.words import on_shaper
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
    """What a step says never changes, and a boot's page is opened at every scan."""
    detail: dict[str, Any] = json.loads(details)

    def read(key: str) -> str:
        return say_length(detail[key] / 1000, unit) if detail.get(key) else ""

    if step == "catch-up":
        return item_states.WORDS[to_state].capitalize(), "not recorded"
    if step == "prepare":
        return "Prepared", PREPARED.get(detail.get("prepared", ""), "")
    if step == "put-on":
        on = read("on_tree_um")
        read_as = f"{on} on the tree" if on else "not read on the tree"
        return f"On tree {detail.get('tree', '')}", _joined(
            read_as, _setting(detail), _over(detail)
        )
    if step == "turn-up":
        return "Turned up", _joined(
            f"{read('on_tree_um')} on the tree" if read("on_tree_um") else "",
            _setting(detail),
            _over(detail),
        )
    if step == "take-off":
        return "Off the tree", CAME_OUT.get(detail.get("came_out", ""), "")
    if step in ("measure-again", "early-reading"):
        early = "" if detail.get("counts", True) else "read too early: kept, does not count"
        return f"Rested at {read('rested_um')}", _joined(f"round {detail['round']}", early)
    if step == "shelve" and detail.get("shelf"):
        return f"On shelf {detail['shelf']}", (
            on_shaper(detail["shaper"]) if detail.get("shaper") else ""
        )
    if step == "finish" and detail.get("shaper"):
        return item_states.STEPS[step].words, on_shaper(detail["shaper"])
    if step == "leave-on":
        return "Left on its tree", f"until {detail.get('until', '')}"
    if step == "come-back":
        return item_states.STEPS[step].words, _changed(detail, unit)
    if step == "stop":
        return "Stopped: something went wrong", ""
    if step == "wait":
        return "Waits", OUTCOMES.get(detail.get("waits_for", ""), "")
    return item_states.STEPS[step].words if step in item_states.STEPS else step.capitalize(), ""


def _changed(detail: dict[str, Any], unit: str) -> str:
    """What was read when it came back: 'the boot 1/4 in smaller than at pickup; under the
    guarantee'.
    """
    change = detail.get("boot_change_um")
    size = "" if change is None else say_length(abs(change) / 1000, unit)
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
