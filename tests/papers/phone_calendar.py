"""A plan as a sheet for a phone's calendar, in Spanish, and the events of its file as another
library reads them.
"""

from dataclasses import replace
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar

from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import preset
from fitcounter.fit.wear.wear_calendar import make_plan
from fitcounter.papers.calendar_ics import calendar_ics
from fitcounter.papers.calendar_records import CalendarSheet, WearLine

NEW_YORK = ZoneInfo("America/New_York")
PICKED_UP = datetime(2026, 11, 23, 15, tzinfo=UTC)
TEXTS = {
    "calendar": "Estrenar sus botas",
    "put_on": "Póngaselas, 30 minutos",
    "take_off": "Quíteselas ya, aunque estén cómodas",
    "why": "La última forma la toma el cuero en su pierna.",
    "stop": "Quíteselas si nota hormigueo, dolor o la piel cambia de color.",
    "ordinary": "Desde hoy, como guste",
    "ordinary_more": "Salga a comer con ellas; si algo no va bien, tráigalas.",
    "whole_day": "El primer día entero",
    "whole_day_more": "Mírese la piel por la noche.",
    "guarantee": "Último día de la garantía",
    "guarantee_more": "Si la bota ha vuelto atrás, otra vez a la horma sin coste.",
    "call": "Llame a Quillmarsh Leather Bench, 555 0142",
    "copy": "Esta copia no cambia sola.",
    "page": "Su página: https://boots.example.org/c/AAAA",
}


def local(*parts: int) -> datetime:
    """A time on the clocks of the plan's zone."""
    return datetime(*parts, tzinfo=NEW_YORK)


def line(wear, zone):
    """A line of the sheet from an entry of the plan, as the desk makes it."""
    begin, end = (
        moment.astimezone(zone).replace(tzinfo=None) for moment in (wear.began, wear.ended)
    )
    return WearLine(
        wear.n,
        begin,
        end,
        wear.actual_minutes or wear.minutes,
        wear.state,
        f"Botas puestas {wear.minutes} minutos",
    )


def sheet_of(plan, sequence=0, stamped_at=PICKED_UP, **more):
    """The sheet of a plan."""
    zone = ZoneInfo(plan.zone)
    sheet = CalendarSheet(
        shop_name="Quillmarsh Leather Bench",
        shop_phone="555 0142",
        first_name="Marisol",
        language="es",
        zone=plan.zone,
        uid_seed="6f1c2a",
        sequence=sequence,
        stamped_at=stamped_at,
        wears=tuple(line(wear, zone) for wear in plan.wears),
        ordinary_from=plan.ordinary_from,
        first_whole_day=plan.first_whole_day,
        guarantee_end=date(2027, 11, 23),
        texts=TEXTS,
    )
    return replace(sheet, **more)


def events(sheet):
    """The events of the file by UID, read by an independent reading of the file."""
    calendar = Calendar.from_ical(calendar_ics(sheet))
    found = {str(event["uid"]): event for event in calendar.events}
    assert len(found) == len(calendar.events)
    return found


@pytest.fixture
def plan():
    """Fetched on Monday morning in New York, worn at six in the evening."""
    return make_plan(PICKED_UP, clock("America/New_York", 18, 0), preset("three-short-wears"))
