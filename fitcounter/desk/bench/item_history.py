"""An item's history as lines: what happened, when, when it was saved, by whom, and what was
read.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import lru_cache
from typing import Any, NamedTuple

from fitcounter.desk.common import item_words
from fitcounter.desk.common.lengths import say_length
from fitcounter.desk.common.translation import marked, say, spoken
from fitcounter.desk.rounds.checks_before_a_round import ON_ANYWAY, REASONS
from fitcounter.desk.trees.tree_shift import shift_words
from fitcounter.fit.assessment.words import on_shaper
from fitcounter.fit.handbook.leg import UM_PER_MM
from fitcounter.store.bench_records import StepRow

CAME_OUT = {
    "dropped": marked("the tree dropped out"),
    "eased": marked("the tree eased out"),
    "gripped": marked("the tree gripped"),
}
EARLY = {
    "tree-needed": marked("the tree was needed"),
    "strain": marked("the boot looked strained"),
    "asked": marked("the customer asked for it"),
    "other": marked("another reason"),
}
PREPARED = {"conditioned": marked("conditioned"), "dry": marked("dry")}
OUTCOMES = {
    "customer": marked("waiting for the customer"),
    "part": marked("waiting for a part"),
    "sent-out": marked("sent out"),
}


class Line(NamedTuple):
    """One step.

    saved_at: where it was saved later than it happened. recorded: no, where it was caught up.
    undone: by the person, later.
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
    head, text = _words(row.step, row.to_state, row.detail, unit, spoken().code)
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
def _words(step: str, to_state: str, details: str, unit: str, language: str) -> tuple[str, str]:
    """Head and text of a step: they never change, and a boot's page is opened at every scan.

    language: the one spoken, so that each has its own.
    """
    detail: dict[str, Any] = json.loads(details)
    if step == "catch-up":
        return item_words.state_word(to_state).capitalize(), say("not recorded")
    head = say(HEADS[step]) if step in HEADS else step.capitalize()
    return _WRITERS[step](head, detail, unit) if step in _WRITERS else (head, "")


def _prepared(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, _of(PREPARED, detail, "prepared")


def _put_on(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    girth = _length(detail, "on_tree_um", unit)
    read = say("{girth} on the tree", girth=girth) if girth else say("not read on the tree")
    head = say("On tree {tree}", tree=detail["tree"]) if detail.get("tree") else say("On a tree")
    return head, _joined(read, _setting(detail), _shift(detail, unit), _over(detail))


def _turned_up(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    girth = _length(detail, "on_tree_um", unit)
    read = say("{girth} on the tree", girth=girth) if girth else ""
    head = say("Moved to tree {tree}", tree=detail["tree"]) if detail.get("tree") else head
    return head, _joined(read, _setting(detail), _over(detail))


def _taken_off(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    early = _of(EARLY, detail, "early")
    if early:
        head = say("Off the tree early")
    return head, _joined(early, _of(CAME_OUT, detail, "came_out"))


def _rested(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    early = "" if detail.get("counts", True) else say("too early, does not count")
    girth = _length(detail, "rested_um", unit)
    read = say("round {number}", number=detail["round"])
    return say("Rested at {girth}", girth=girth), _joined(read, early)


def _shelved(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    if not detail.get("shelf"):
        return head, ""
    return say("On shelf {shelf}", shelf=detail["shelf"]), _shaper(detail)


def _finished(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, _shaper(detail)


def _left_on(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, say("until {day}", day=_day(detail.get("until", "")))


def _waits(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, _of(OUTCOMES, detail, "waits_for")


def _came_back(head: str, detail: dict[str, Any], unit: str) -> tuple[str, str]:
    return head, _changed(detail, unit)


# What is true once a step is saved.
HEADS = {
    "arrive": marked("Arrived"),
    "agree": marked("Sent to the bench"),
    "prepare": marked("Prepared"),
    "put-on": marked("On a tree"),
    "turn-up": marked("Tree turned up"),
    "take-off": marked("Off the tree"),
    "leave-on": marked("Left on longer"),
    "measure-again": marked("Measured again"),
    "early-reading": marked("Measured too early"),
    "another-round": marked("Another round"),
    "done": marked("Stretching done"),
    "finish": marked("Finished"),
    "start-work": marked("Work started"),
    "work-done": marked("Work done"),
    "shelve": marked("On the shelf"),
    "try-on": marked("Tried on"),
    "back-on-tree": marked("Back to the bench"),
    "hand-over": marked("Handed over"),
    "come-back": marked("Back for another look"),
    "close": marked("Guarantee over"),
    "wait": marked("On hold"),
    "go-on": marked("Work continued"),
    "stop": marked("Stopped by a problem"),
    "decline": marked("Given back undone"),
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


def _of(words: Mapping[str, str], detail: dict[str, Any], name: str) -> str:
    """What the detail says under a name, from a table of words; "" where it says nothing."""
    code = detail.get(name, "")
    return say(words[code]) if code in words else ""


def _day(iso: str) -> str:
    """ "Saturday 5 December"; "" for none."""
    return spoken().day(date.fromisoformat(iso)) if iso else ""


def _shaper(detail: dict[str, Any]) -> str:
    return on_shaper(detail["shaper"]) if detail.get("shaper") else ""


def _changed(detail: dict[str, Any], unit: str) -> str:
    """What was read when it came back: 'the boot is 1/4 in smaller than at pickup; guarantee still
    valid'.
    """
    change = detail.get("boot_change_um")
    size = "" if change is None else say_length(abs(change) / UM_PER_MM, unit)
    if change is None:
        boot = ""
    elif size.startswith(("0 ", "0.0 ")):
        boot = say("the boot reads as at pickup")
    else:
        boot = (
            say("the boot is {size} smaller than at pickup", size=size)
            if change < 0
            else say("the boot is {size} larger than at pickup", size=size)
        )
    covered = detail.get("under_guarantee")
    return _joined(boot, say("under the guarantee") if covered else say("guarantee over"))


def _setting(detail: dict[str, Any]) -> str:
    return say("setting {setting}", setting=detail["setting"]) if detail.get("setting") else ""


def _shift(detail: dict[str, Any], unit: str) -> str:
    return shift_words(detail.get("shift_um", 0) / UM_PER_MM, unit)


def _over(detail: dict[str, Any]) -> str:
    if detail.get("anyway"):
        why = str(dict(ON_ANYWAY).get(detail["anyway"], detail["anyway"]))
        return say("on anyway: {reason}", reason=why[:1].lower() + why[1:])
    if not detail.get("over"):
        return ""
    reason = str(dict(REASONS).get(detail["over"], detail["over"]))
    return say("past the limit: {reason}", reason=reason[:1].lower() + reason[1:])


def _joined(*parts: str) -> str:
    return "; ".join(part for part in parts if part)
