"""A wearing-in calendar as it stands, and what a moment asks for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from fitcounter.fit.wear.rest import Clock, clock
from fitcounter.fit.wear.wear import Wear, WearRules

DueKind = Literal["wear", "rest", "ordinary", "whole-day", "over", "hold"]


@dataclass(frozen=True, slots=True)
class WearPlan:
    """A wearing-in calendar as it stands.

    zone: IANA name. hour, minute: the chosen time on the clock. picked_up, off_tree_at (off tree
    and shaper): UTC.
    wears: the log in order of time. ordinary_from: first day of ordinary wear, an outing.
    first_whole_day: the day after it.
    notes: message ids, "late-first-wear" and "too-long:<n>"; the second kind is for the shop's
    follow-up list. held_since: UTC instant since which nothing may be worn, None while the plan
    runs. resumes_on: local day before which no step is planned, as the shop answered or as it began
    again.
    boots: left or right where it is for one boot alone, else "".
    """

    zone: str
    hour: int
    minute: int
    rules: WearRules
    picked_up: datetime
    off_tree_at: datetime
    wears: tuple[Wear, ...]
    ordinary_from: date
    first_whole_day: date
    notes: tuple[str, ...] = ()
    held_since: datetime | None = None
    resumes_on: date | None = None
    boots: str = ""

    @property
    def clock(self) -> Clock:
        """The hour in its zone."""
        return clock(self.zone, self.hour, self.minute)

    @property
    def to_come(self) -> tuple[Wear, ...]:
        """The planned wears, next one first."""
        return tuple(wear for wear in self.wears if wear.state == "planned")

    @property
    def closed(self) -> tuple[Wear, ...]:
        """All that happened: worn, missed, moved, off."""
        return tuple(wear for wear in self.wears if wear.state != "planned")

    @property
    def follow_up(self) -> bool:
        """Whether the shop should ask how it goes: a wear was too long."""
        return any(note.startswith("too-long:") for note in self.notes)


@dataclass(frozen=True, slots=True)
class Due:
    """What this moment asks for.

    wear: put them on, any time from now until the day ends (`wear` says which). rest: not before
    `until` (UTC); `wear` is the next one, None before ordinary wear. ordinary: an outing, see how
    they feel. whole-day: the first whole day. over: nothing more. hold: boots off until the shop
    says otherwise.
    """

    kind: DueKind
    wear: Wear | None = None
    until: datetime | None = None
