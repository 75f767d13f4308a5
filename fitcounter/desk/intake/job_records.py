"""A job as it is told at the counter: whose it is, the boots to stretch, the other things."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple

from fitcounter.desk.common.contact import Phone


@dataclass(frozen=True, slots=True)
class Who:
    """Whose things they are: somebody the shop knows (customer_id), or somebody new.

    email: '' leaves a known one's as it is.
    """

    name: str
    phone: Phone = field(default_factory=Phone)
    customer_id: int | None = None
    email: str = ""


class Seen(NamedTuple):
    """One finding on one side, before the work."""

    side: str
    word: str
    place: str = ""


class Boots(NamedTuple):
    """A pair, or one of it, to be stretched. Lengths in micrometres; None takes the guess of the
    class.

    target: how it will be said how much (leg, gap, amount, safe).
    """

    sides: tuple[str, ...]
    material: str
    closure: str
    lining: str
    description: str = ""
    target: str = "gap"
    seen: tuple[Seen, ...] = ()
    thickness_um: int | None = None
    lining_um: int | None = None
    wall_um: int | None = None
    zip_band_um: int | None = None
    backstay_um: int | None = None
    elastic_um: int | None = None
    throat_um: int | None = None
    signed_off: bool = False


@dataclass(frozen=True, slots=True)
class Thing:
    """Other work on the same ticket: one physical thing. field: where its jobs were typed."""

    kind: str
    description: str
    jobs: str
    promised_day: date | None = None
    field: str = "things"


@dataclass(frozen=True, slots=True)
class NewJob:
    """What is said at the counter.

    arrives: the day the things are brought in, None when they are here. slot_id: of the
    days that were kept for it before.
    """

    who: Who
    boots: Boots | None
    things: tuple[Thing, ...] = ()
    needed_by: date | None = None
    worn_with: str = ""
    note: str = ""
    arrives: date | None = None
    rush: bool = False
    slot_id: int | None = None
