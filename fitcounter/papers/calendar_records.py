"""What goes into the wearing-in calendar, the same record for page, file, PDF and phone
calendar.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal
from zoneinfo import ZoneInfo


@dataclass(frozen=True, slots=True)
class WearLine:
    """One line of the calendar.

    n: step, from 1; 0 is an extra wear. start_local, end_local: what her clock shows, without zone;
    as worn where it was worn.
    minutes: how long, as worn where it was worn. state: as in the plan. words: the line in her
    language ("Wear your boots for 30 minutes").
    """

    n: int
    start_local: datetime
    end_local: datetime
    minutes: int
    state: Literal["planned", "worn", "missed", "moved", "off"]
    words: str


@dataclass(frozen=True, slots=True)
class CalendarSheet:
    """A wearing-in calendar, every sentence already in the customer's language.

    language: as Babel names it ("en_US", "es"). hours: "12" or "24", "" as the language writes
    them. zone: IANA name. uid_seed: stays the same for the life of the plan, tells nothing about
    her. sequence: raised by one at each change. stamped_at:
    aware instant of that change. guarantee_end: last day covered, None where there is none.
    what_boots_did: "Your left boot gave 9/16 in." and the like.
    link: the address of the customer's page, for the squares on the paper and in each event; ""
    prints none. typed: the short one, for who cannot scan. into_phone: what a
    phone's calendar opens. follows: a feed that the phone asks
    again, not a copy. organizer: the address of the shop as a URI, "" names none.
    hold: the sentence that stands instead of the plan while nothing may be worn, "" while it runs.
    answer: what the shop said about boots that did not feel right, line by line.
    texts, by key: calendar (its name) · put_on, take_off (alarms) · why (why short) · stop (take
    them off at once if …) · ordinary, ordinary_more · whole_day, whole_day_more · guarantee,
    guarantee_more (title and explanation of each of these days) · call (whom to call) · copy (a
    file does not follow changes) · page (where the link leads, with the link).
    """

    shop_name: str
    shop_phone: str
    first_name: str
    language: str
    zone: str
    uid_seed: str
    sequence: int
    stamped_at: datetime
    wears: tuple[WearLine, ...]
    ordinary_from: date
    first_whole_day: date
    guarantee_end: date | None
    texts: Mapping[str, str]
    what_boots_did: tuple[str, ...] = ()
    link: str = ""
    typed: str = ""
    into_phone: str = ""
    hold: str = ""
    answer: tuple[str, ...] = ()
    follows: bool = False
    organizer: str = ""
    hours: str = ""

    @property
    def as_of(self) -> date:
        """The day, where the customer is, on which the days were as they stand here."""
        return self.stamped_at.astimezone(ZoneInfo(self.zone)).date()

    @property
    def withdrawn(self) -> bool:
        """Whether the plan was called off or is on hold: then neither ordinary wear nor a first
        whole day follow from it.
        """
        return bool(self.hold) or any(wear.state == "off" for wear in self.wears)
