"""A phone's calendar reads back exactly the plan: every wear, every update, and nothing a hostile
name would slip in.
"""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from io import StringIO
from zoneinfo import ZoneInfo

import pytest
import recurring_ical_events
import vobject
from dateutil.tz import tzical
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from fitcounter.fit.wear.missed_wears import move_missed
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import EXTRA, preset
from fitcounter.fit.wear.wear_calendar import call_off, make_plan, not_today, record_wear
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


def test_there_is_one_event_for_each_wear_and_one_for_each_day_to_know(plan):
    """Three wears at six for half an hour, ordinary wear, the first whole day, the guarantee's last
    day.
    """
    found = events(sheet_of(plan))
    assert {uid: event.start for uid, event in found.items()} == {
        "6f1c2a-wear-1": local(2026, 11, 23, 18),
        "6f1c2a-wear-2": local(2026, 11, 24, 18),
        "6f1c2a-wear-3": local(2026, 11, 25, 18),
        "6f1c2a-ordinary": date(2026, 11, 26),
        "6f1c2a-whole_day": date(2026, 11, 27),
        "6f1c2a-guarantee": date(2027, 11, 23),
    }
    assert [found[f"6f1c2a-wear-{n}"].duration for n in (1, 2, 3)] == [timedelta(minutes=30)] * 3
    assert {event.duration for uid, event in found.items() if "wear" not in uid} == {
        timedelta(days=1)
    }


def test_times_are_in_the_zone_of_the_plan_whose_clock_changes_stand_in_the_file(plan):
    """The file alone says which instant it is: the clock changes are read by dateutil."""
    text = calendar_ics(sheet_of(plan)).decode()
    assert "DTSTART;TZID=America/New_York:20261123T180000\r\n" in text
    assert "DTEND;TZID=America/New_York:20261123T183000\r\n" in text
    zone = tzical(StringIO(text)).get("America/New_York")
    for month, day, offset in ((11, 23, -5), (3, 13, -5), (3, 15, -4), (10, 31, -4)):
        noon = datetime(2027 if month < 11 else 2026, month, day, 12, tzinfo=zone)
        assert noon.utcoffset() == timedelta(hours=offset), noon


def test_another_library_reads_the_same_events_out_of_it(plan):
    """vobject, which shares no line with what writes the file: hours, words, alarms, who sends."""
    sheet = sheet_of(
        plan,
        link="https://boots.example.org/c/AAAA",
        organizer="tel:+15550100142",
        shop_name='Boots "R"; Us, Ñ',
    )
    read = vobject.readOne(calendar_ics(sheet).decode())
    assert len(read.vevent_list) == 6
    first = read.vevent_list[0]
    assert first.dtstart.value.astimezone(UTC) == plan.wears[0].start.astimezone(UTC)
    assert first.dtend.value.astimezone(UTC) == plan.wears[0].end.astimezone(UTC)
    assert first.summary.value == "Botas puestas 30 minutos"
    assert [alarm.trigger.value for alarm in first.valarm_list] == [
        timedelta(),
        timedelta(minutes=30),
    ]
    for event in read.vevent_list:
        assert event.organizer.value == "tel:+15550100142"
        assert event.organizer.params["CN"] == ["Boots \u201dR\u201d; Us, Ñ"]
        words = event.description.value
        assert words.count("https://boots.example.org/c/AAAA") == 1
        assert words.count("555 0142") == words.count("Quillmarsh Leather Bench") == 1


def test_a_feed_says_how_often_to_ask_and_a_file_that_it_does_not_follow(plan):
    """RFC 7986 5.7, and the name that other programs know it by."""
    ask = b"REFRESH-INTERVAL;VALUE=DURATION:PT1H\r\n", b"X-PUBLISHED-TTL:PT1H\r\n"
    feed, file = calendar_ics(sheet_of(plan, follows=True)), calendar_ics(sheet_of(plan))
    assert [line in feed for line in ask] == [True, True]
    assert [line in file for line in ask] == [False, False]
    copy = TEXTS["copy"]
    for raw, is_said in ((feed, False), (file, True)):
        for event in Calendar.from_ical(raw).events:
            assert (copy in str(event["description"])) is is_said


def test_the_file_is_what_the_standard_asks_for(plan):
    """RFC 5545: version, product, method, CRLF at each end of line, at most 75 octets, whole
    characters on each line.
    """
    raw = calendar_ics(sheet_of(plan, shop_name="👢" * 40 + "ñ" * 99))
    assert raw.startswith(
        b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//fitcounter//wearing-in"
        b" calendar//EN\r\nMETHOD:PUBLISH\r\n"
    )
    assert raw.endswith(b"END:VCALENDAR\r\n")
    rows = raw.split(b"\r\n")
    assert max(map(len, rows)) <= 75
    assert all(b"\r" not in row and b"\n" not in row and row.decode() for row in rows[:-1])


def test_two_alarms_say_when_to_put_them_on_and_when_to_take_them_off(plan):
    """At the start and after the minutes; the days to know ring nobody."""
    found = events(sheet_of(plan))
    first = found["6f1c2a-wear-1"]
    assert [
        (alarm["action"], alarm.TRIGGER, str(alarm["description"]))
        for alarm in first.walk("VALARM")
    ] == [
        ("DISPLAY", timedelta(), TEXTS["put_on"]),
        ("DISPLAY", timedelta(minutes=30), TEXTS["take_off"]),
    ]
    assert [moment.trigger for moment in first.alarms.times] == [first.start, first.end]
    assert not any(
        found[f"6f1c2a-{day}"].walk("VALARM") for day in ("ordinary", "whole_day", "guarantee")
    )


def test_words_are_hers_and_say_which_language_they_are(plan):
    """Titles, why short, stop signs, whom to call; the name of the calendar; nobody is kept busy by
    it.
    """
    calendar = Calendar.from_ical(calendar_ics(sheet_of(plan)))
    assert (str(calendar["name"]), str(calendar["x-wr-calname"])) == (TEXTS["calendar"],) * 2
    found = events(sheet_of(plan))
    call = "Llame a Quillmarsh Leather Bench, 555 0142"
    assert str(found["6f1c2a-wear-2"]["summary"]) == "Botas puestas 30 minutos"
    assert (
        str(found["6f1c2a-wear-2"]["description"])
        == f"{TEXTS['why']}\n{TEXTS['stop']}\n{call}\n{TEXTS['copy']}"
    )
    for day in ("ordinary", "whole_day", "guarantee"):
        assert str(found[f"6f1c2a-{day}"]["summary"]) == TEXTS[day]
        assert str(found[f"6f1c2a-{day}"]["description"]) == (
            f"{TEXTS[f'{day}_more']}\n{call}\n{TEXTS['copy']}"
        )
    for event in found.values():
        assert event["transp"] == "TRANSPARENT"
        assert {event[key].params["LANGUAGE"] for key in ("summary", "description")} == {"es"}
        assert {alarm["description"].params["LANGUAGE"] for alarm in event.walk("VALARM")} <= {"es"}
    assert "Marisol" not in calendar_ics(sheet_of(plan)).decode()


def test_an_update_replaces_every_event_and_names_no_new_one(plan):
    """Not today: the same UIDs, a higher sequence, a newer stamp, each wear a day later and never
    twice.
    """
    old = events(sheet_of(plan, sequence=3))
    moved = not_today(plan, 1, PICKED_UP + timedelta(hours=1))
    later = PICKED_UP + timedelta(hours=1)
    new = events(sheet_of(moved, sequence=4, stamped_at=later))
    assert new.keys() == old.keys()
    for uid, event in new.items():
        assert (old[uid]["sequence"], event["sequence"]) == (3, 4)
        assert old[uid].DTSTAMP == PICKED_UP
        assert event.DTSTAMP == event.LAST_MODIFIED == later
        assert event.start - old[uid].start == timedelta(days=0 if "guarantee" in uid else 1)
        assert event["status"] == "CONFIRMED"


def test_withdrawn_wears_are_cancelled_with_what_would_have_followed_and_the_worn_one_stays(plan):
    """The boots are back in the shop; the guarantee still ends on its day."""
    worn = record_wear(plan, 1, plan.wears[0].start, 30, plan.wears[0].end)
    found = events(sheet_of(call_off(worn, plan.wears[0].end), sequence=2))
    assert {uid.removeprefix("6f1c2a-"): str(event["status"]) for uid, event in found.items()} == {
        "wear-1": "CONFIRMED",
        "wear-2": "CANCELLED",
        "wear-3": "CANCELLED",
        "ordinary": "CANCELLED",
        "whole_day": "CANCELLED",
        "guarantee": "CONFIRMED",
    }
    assert not any(event.walk("VALARM") for event in found.values())


def test_what_was_worn_is_shown_as_it_was_and_rings_no_more(plan):
    """On at half past seven for forty minutes; extra wears and missed days are history, not
    events.
    """
    started = plan.wears[0].start + timedelta(minutes=90)
    told = record_wear(plan, 1, started, 40, started + timedelta(minutes=40))
    told = record_wear(told, EXTRA, started + timedelta(hours=2), 5, started + timedelta(hours=3))
    found = events(sheet_of(move_missed(told, started + timedelta(days=5))))
    assert sorted(uid for uid in found if "wear" in uid) == [
        "6f1c2a-wear-1",
        "6f1c2a-wear-2",
        "6f1c2a-wear-3",
    ]
    first = found["6f1c2a-wear-1"]
    assert first.start == local(2026, 11, 23, 19, 30)
    assert first.duration == timedelta(minutes=40)
    assert not first.walk("VALARM")
    assert len(found["6f1c2a-wear-2"].walk("VALARM")) == 2


def test_a_shop_without_a_guarantee_names_no_last_day(plan):
    """No event for a day there is not."""
    assert not any("guarantee" in uid for uid in events(sheet_of(plan, guarantee_end=None)))


def test_a_wear_over_a_doubled_hour_still_ends_after_it_begins():
    """From 01:45 half an hour ends at 01:15 on the clock: the file says how long it is, and the
    alarm rings after thirty real minutes.
    """
    plan = make_plan(
        datetime(2026, 10, 31, 15, tzinfo=UTC),
        clock("America/New_York", 1, 45),
        preset("three-short-wears"),
    )
    sheet = sheet_of(plan)
    assert sheet.wears[0].end_local < sheet.wears[0].start_local
    event = events(sheet)["6f1c2a-wear-1"]
    assert event.start == local(2026, 11, 1, 1, 45)
    assert "dtend" not in event
    assert event["duration"].dt == timedelta(minutes=30)
    assert [alarm.TRIGGER for alarm in event.walk("VALARM")] == [timedelta(), timedelta(minutes=30)]


def test_a_wear_over_the_hour_left_out_ends_when_the_clock_says_and_rings_after_its_minutes():
    """From 01:45 half an hour ends at 03:15 on the clock."""
    plan = make_plan(
        datetime(2026, 3, 7, 15, tzinfo=UTC),
        clock("America/New_York", 1, 45),
        preset("three-short-wears"),
    )
    event = events(sheet_of(plan))["6f1c2a-wear-1"]
    assert (event.start, event.end) == (local(2026, 3, 8, 1, 45), local(2026, 3, 8, 3, 15))
    assert [alarm.TRIGGER for alarm in event.walk("VALARM")] == [timedelta(), timedelta(minutes=30)]


def test_a_missing_sentence_is_an_error_and_not_a_calendar_with_a_hole(plan):
    """The catalogue's fault shows at once."""
    with pytest.raises(KeyError, match="stop"):
        calendar_ics(
            sheet_of(plan, texts={key: words for key, words in TEXTS.items() if key != "stop"})
        )


HOSTILE = [
    "Shop\r\nATTENDEE:mailto:x@example.org",
    "Shop\nEND:VEVENT\nBEGIN:VEVENT",
    "Shop\rURL:https://example.org",
    "Shop\x0bURL:https://example.org",
    "Shop\x85URL:https://example.org",
    "Shop\u2028URL:https://example.org\u2029",
    "Shop\x00\x1f\x7f",
    "a,b;c\\n d\\, e\\; \\\\",
    'Shop";X="',
    "👢👩🏽‍🦱 ¼ ⅛ ″",
    "\u202eezis thgil\u2066",
    "\ud800 lone half",
    "",
]


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_a_hostile_name_adds_no_line_no_property_and_no_event(plan, words):
    """In every field that people type: the file has the same lines by name as with a harmless one,
    and the words read back.
    """
    harmless = calendar_ics(sheet_of(plan, organizer="tel:+15550100142"))
    hostile = sheet_of(
        plan,
        shop_name=words,
        shop_phone=words,
        organizer="tel:+15550100142",
        uid_seed=f"6f{words}",
        texts=dict.fromkeys(TEXTS, words),
    )
    hostile = replace(hostile, wears=tuple(replace(wear, words=words) for wear in hostile.wears))
    raw = calendar_ics(hostile)

    def names(file):
        return [
            row.split(":")[0].split(";")[0]
            for row in file.decode().replace("\r\n ", "").splitlines()
        ]

    assert names(raw) == names(harmless)
    read = Calendar.from_ical(raw)
    assert len(read.events) == 6
    said = "".join(
        " " if character in "\r\n\x0b\x85\u2028\u2029\x00\x1f\x7f\u202e\u2066\ud800" else character
        for character in words
    )
    assert all(str(event["summary"]) == said for event in read.events)
    assert set("\r\x0b\x85\u2028\u2029\u202e") & set(raw.decode().replace("\r\n", "")) == set()


def test_the_same_sheet_gives_the_same_bytes(plan):
    """No clock and no chance in it."""
    assert calendar_ics(sheet_of(plan)) == calendar_ics(sheet_of(plan))
    assert calendar_ics(sheet_of(plan, sequence=1)) != calendar_ics(sheet_of(plan))


@given(
    st.datetimes(
        datetime.fromisoformat("2024-01-01"),
        datetime.fromisoformat("2032-12-31"),
        timezones=st.just(UTC),
    ),
    st.sampled_from(["America/New_York", "Europe/Madrid", "Australia/Lord_Howe", "Asia/Beirut"]),
    st.integers(0, 23),
    st.sampled_from(["three-short-wears", "growing"]),
    st.integers(0, 12),
)
@settings(derandomize=True, deadline=None, max_examples=60)
def test_a_calendar_program_shows_each_wear_on_the_day_and_at_the_time_of_the_plan(
    picked_up, zone, hour, name, days_later
):
    """Plans of both kinds in four zones over nine years, some days missed, expanded day by day by
    another library.
    """
    plan = move_missed(
        make_plan(picked_up, clock(zone, hour, 0), preset(name)),
        picked_up + timedelta(days=days_later),
    )
    sheet = sheet_of(plan)
    shown = recurring_ical_events.of(Calendar.from_ical(calendar_ics(sheet)))
    for wear in plan.to_come:
        found = [
            event
            for event in shown.at(wear.local_day)
            if str(event["uid"]).startswith(f"6f1c2a-wear-{wear.n}")
        ]
        assert [event.start for event in found] == [wear.start.astimezone(ZoneInfo(zone))]
    for day, kind in ((plan.ordinary_from, "ordinary"), (plan.first_whole_day, "whole_day")):
        assert f"6f1c2a-{kind}" in {str(event["uid"]) for event in shown.at(day)}
