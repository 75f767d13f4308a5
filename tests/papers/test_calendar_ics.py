"""A phone's calendar reads back exactly the plan, in the form that the standard asks for, and
nothing that a hostile name would slip in.
"""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from io import StringIO

import pytest
import vobject
from dateutil.tz import tzical
from icalendar import Calendar
from papers.phone_calendar import TEXTS, events, local, plan, sheet_of

from fitcounter.papers.calendar_ics import calendar_ics

__all__ = ["plan"]


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


def test_a_shop_without_a_guarantee_names_no_last_day(plan):
    """No event for a day there is not."""
    assert not any("guarantee" in uid for uid in events(sheet_of(plan, guarantee_end=None)))


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
