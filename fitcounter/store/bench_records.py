"""The bench's own rows as records, as in `records`."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import NamedTuple


class Calibration(NamedTuple):
    """A girth of a tree at a setting: of the bare tree, or inside a boot that was on it."""

    id: int
    tree_id: int
    setting_milli: int
    height_um: int
    girth_um: int
    pads: str
    source: str
    read_at: str
    staff_id: int | None


class Closure(NamedTuple):
    """Days without anybody at the bench, both ends included. kind: 'closed' or 'bench-away'."""

    id: int
    from_day: str
    to_day: str
    why: str
    kind: str


class Incident(NamedTuple):
    id: int
    item_id: int
    opened_at: str
    what: str
    where_on: str
    told_at: str | None
    agreed: str
    settled_at: str | None
    staff_id: int | None
    version: int


class Round(NamedTuple):
    """rested_um: what its readings settle to; rested_reads: JSON of each as [um, text, unit] where
    there are several. before_read: read anew, not taken over from the round before. shift_um: how
    much higher its tree sat than usual.
    """

    id: int
    item_id: int
    n: int
    method: str
    mark_um: int | None
    prepared: str
    prepared_with: str
    prepared_at: str | None
    tree_id: int | None
    pads: str
    before_um: int | None
    before_text: str
    before_unit: str
    on_at: str | None
    due_off_at: str | None
    off_at: str | None
    came_out: str
    rested_um: int | None
    rested_text: str
    rested_unit: str
    rested_method: str
    rested_at: str | None
    rested_counts: int
    override_why: str
    outcome: str
    version: int
    rested_reads: str
    before_read: int
    shift_um: int

    @property
    def rested_count(self) -> int:
        """How often the rested boot was read, 1 where it was not."""
        return len(json.loads(self.rested_reads)) if self.rested_reads else 1


class Turn(NamedTuple):
    id: int
    round_id: int
    n: int
    at: str
    girth_um: int | None
    girth_text: str
    unit: str
    setting_text: str
    setting_milli: int | None
    staff_id: int | None


class TreeRow(NamedTuple):
    """A row of trees; fit.trees.Tree is what it can do. shift_most_um: how far it may sit higher or
    lower.
    """

    id: int
    label: str
    side: str
    size: str
    closed_um: int | None
    open_um: int | None
    closed_setting_milli: int
    open_setting_milli: int | None
    setting_word: str
    state: str
    note: str
    version: int
    shift_most_um: int


class TreeBooking(NamedTuple):
    id: int
    tree_id: int
    item_id: int | None
    words: str
    kind: str
    round_n: int | None
    from_day: str
    to_day: str
    slot_id: int | None
    slot_side: str


class StepRow(NamedTuple):
    """A row of steps. detail: JSON of what the step said."""

    id: int
    item_id: int
    step: str
    happened_at: str
    saved_at: str
    staff_id: int | None
    recorded: int
    from_state: str
    to_state: str
    detail: str
    undone_at: str | None


@dataclass(frozen=True, slots=True)
class WearPlanRow:
    id: int
    ticket_id: int
    zone: str
    hour: int
    minute: int
    preset: str
    rest_from: str
    rules: str
    picked_up_at: str
    off_tree_at: str
    ordinary_from: str
    sequence: int
    language: str
    version: int
    held_since: str | None
    resumes_on: str | None
    boots: str
    before: str


@dataclass(frozen=True, slots=True)
class WearRow:
    id: int
    plan_id: int
    position: int
    n: int
    start_at: str
    end_at: str
    minutes: int
    local_day: str
    state: str
    actual_start_at: str | None
    actual_minutes: int | None


class FollowUp(NamedTuple):
    id: int
    ticket_id: int
    item_id: int | None
    due_day: str
    kind: str
    side: str | None
    place: str
    said: str
    answer: str
    done_at: str | None
    staff_id: int | None
    felt: str


class WearAdvice(NamedTuple):
    """What the shop answered: advice go-on, come-in, doctor or stop; from_day where they go on."""

    id: int
    ticket_id: int
    at: str
    advice: str
    from_day: str | None
    note: str
    staff_id: int
