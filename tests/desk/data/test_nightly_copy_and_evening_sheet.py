"""What the machine does by itself: when it falls due, what it leaves on the disk, and what happens
when it goes wrong.
"""

from __future__ import annotations

import subprocess
import sys
import threading
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pypdf
import pytest
from support.paths import CHECKOUT
from support.ticket_rows import make_job

from fitcounter.desk.data import copy_and_bring_back, erasure, nightly_copy_and_evening_sheet
from fitcounter.desk.data.nightly_copy_and_evening_sheet import COPY, EVENING, due
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.shop import Act, Shop, Store
from fitcounter.errors import NoRoom
from fitcounter.store import backup, customers, job_log
from fitcounter.store.database import utc_text
from fitcounter.store.job_log import Duty

# Tuesday to Saturday, 9 to 18 in New York: on 17 March 2026 it closes at 22:00 UTC.
SHOP = Shop(zone="America/New_York", open_days=(1, 2, 3, 4, 5), closes_at="18:00")
CLOSING = datetime(2026, 3, 17, 22, 0, tzinfo=UTC)
MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)


def done(**at: datetime) -> dict[str, Duty]:
    """evening=…, copy=…: when each went well last."""
    names = {"evening": EVENING, "copy": COPY}
    return {names[name]: Duty(utc_text(moment), utc_text(moment)) for name, moment in at.items()}


ALL_DONE = done(evening=CLOSING - 20 * HOUR, copy=CLOSING - 20 * HOUR)


@pytest.mark.parametrize(
    ("after", "wanted"),
    [
        (-MINUTE, []),
        (timedelta(), [EVENING]),
        (29 * MINUTE, [EVENING]),
        (30 * MINUTE, [EVENING, COPY]),
        (15 * HOUR, [EVENING, COPY]),
    ],
)
def test_the_sheet_is_due_at_closing_and_the_copy_half_an_hour_later(
    after: timedelta, wanted: list[str]
):
    """Also when the machine was off then and is started the next morning."""
    assert due(SHOP, ALL_DONE, [], CLOSING + after) == wanted


def test_what_is_done_is_not_due_again_before_the_next_evening():
    held = done(evening=CLOSING, copy=CLOSING + 30 * MINUTE)
    assert due(SHOP, held, [], CLOSING + 23 * HOUR) == []
    assert due(SHOP, held, [], CLOSING + 24 * HOUR) == [EVENING]


def test_on_a_closed_day_there_is_a_copy_but_no_sheet():
    saturday = CLOSING + 4 * 24 * HOUR
    held = done(evening=saturday, copy=saturday + HOUR)
    assert due(SHOP, held, [], saturday + 25 * HOUR) == [COPY]
    assert due(SHOP, held, [], saturday + 71 * HOUR) == [COPY]
    assert due(SHOP, held, [], saturday + 72 * HOUR) == [EVENING, COPY]


def test_a_shop_closes_by_its_own_clock_also_after_the_hour_changes():
    """The clocks of New York go forward on 8 March 2026: 18:00 is 23:00 UTC on the 7th and 22:00
    UTC from then on.
    """
    assert nightly_copy_and_evening_sheet.last_closing(
        SHOP, datetime(2026, 3, 9, 12, 0, tzinfo=UTC)
    ) == datetime(2026, 3, 7, 23, 0, tzinfo=UTC)
    assert nightly_copy_and_evening_sheet.last_closing(SHOP, CLOSING) == CLOSING
    late = replace(SHOP, zone="Pacific/Auckland", closes_at="23:50")
    assert due(
        late, done(evening=CLOSING, copy=CLOSING), [], datetime(2026, 3, 18, 11, 19, tzinfo=UTC)
    ) == [EVENING]
    assert due(
        late, done(evening=CLOSING, copy=CLOSING), [], datetime(2026, 3, 18, 11, 20, tzinfo=UTC)
    ) == [EVENING, COPY]


def test_a_pickup_is_copied_once_it_is_quiet_or_after_half_an_hour_of_pickups():
    """Three customers in a row make one copy; a whole afternoon of them does not put it off for
    ever.
    """
    noon = CLOSING - 6 * HOUR
    held = done(evening=CLOSING - 20 * HOUR, copy=noon - HOUR)
    assert due(SHOP, held, [noon], noon + 4 * MINUTE) == []
    assert due(SHOP, held, [noon], noon + 5 * MINUTE) == [COPY]
    row = [noon + n * 4 * MINUTE for n in range(8)]
    assert due(SHOP, held, row[:7], row[6] + MINUTE) == []
    assert due(SHOP, held, row, row[7] + 2 * MINUTE) == [COPY]
    assert due(SHOP, done(evening=noon, copy=noon + 40 * MINUTE), row, noon + 3 * HOUR) == []


def test_what_went_wrong_is_tried_again_after_ten_minutes():
    failed = {
        **ALL_DONE,
        EVENING: Duty(utc_text(CLOSING), utc_text(CLOSING - 20 * HOUR), "The disk is full."),
    }
    assert due(SHOP, failed, [], CLOSING + 9 * MINUTE) == []
    assert due(SHOP, failed, [], CLOSING + 10 * MINUTE) == [EVENING]


def test_a_clock_that_was_years_ahead_once_does_not_stop_the_copies():
    """A duty noted as done in 2031, and one that failed then, is due as soon as the clock is
    right.
    """
    ahead = datetime(2031, 1, 1, tzinfo=UTC)
    assert due(SHOP, done(evening=ahead, copy=ahead), [], CLOSING + HOUR) == [EVENING, COPY]
    assert due(
        SHOP, {COPY: Duty(utc_text(ahead), "", "The disk is full."), EVENING: Duty()}, [], CLOSING
    ) == [EVENING, COPY]


def test_by_itself_it_leaves_a_good_copy_and_the_sheet_of_the_evening(store: Store, tmp_path: Path):
    make_job(store, Act(CLOSING - 3 * HOUR))
    assert nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING - HOUR) == [
        EVENING,
        COPY,
    ]  # the evening before was missed
    assert nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING - HOUR + MINUTE) == []
    assert nightly_copy_and_evening_sheet.keep(tmp_path, tmp_path / "else", CLOSING + HOUR) == [
        EVENING,
        COPY,
    ]

    (copy,) = backup.copies(tmp_path / "else")
    assert backup.verify(copy.path).sound
    held = job_log.read(tmp_path)
    assert held[EVENING] == Duty(
        utc_text(CLOSING + HOUR), utc_text(CLOSING + HOUR), "", "evening-2026-03-17-1900.pdf"
    )
    sheet = tmp_path / job_log.EVENINGS / held[EVENING].made
    assert "Marisol Okafor-Lind" in pypdf.PdfReader(sheet).pages[0].extract_text()
    assert sheet.stat().st_mode & 0o077 == 0


def test_a_copy_by_hand_counts(store: Store, tmp_path: Path):
    nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING - HOUR)
    copy_and_bring_back.make_copy(tmp_path, tmp_path / "disk", CLOSING + HOUR)
    assert nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING + HOUR + MINUTE) == [EVENING]


def test_a_shop_that_is_not_set_up_keeps_nothing(tmp_path: Path):
    assert nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING + HOUR) == []
    assert not (tmp_path / "copies").exists()


def test_without_the_means_for_a_pdf_the_sheet_is_a_page_to_print(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    """It fetches nothing and has the style inside, so that it prints from a memory stick."""
    make_job(store, Act(CLOSING - 3 * HOUR))
    monkeypatch.setattr(documents_ticket, "ready", lambda: "PDFs need the library Pango.")
    name = nightly_copy_and_evening_sheet.make_evening(store, SHOP, CLOSING)
    page = (tmp_path / job_log.EVENINGS / name).read_text(encoding="utf-8")
    assert name.endswith(".html")
    assert "Marisol Okafor-Lind" in page
    assert ".jobs" in page
    assert 'src: url("about:invalid' in page
    assert "http" not in page


def test_seven_sheets_are_kept_and_none_once_somebody_is_erased(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(documents_ticket, "ready", lambda: "a page is quicker than a PDF")
    for n in range(9):
        nightly_copy_and_evening_sheet.make_evening(store, SHOP, CLOSING + n * 24 * HOUR)
    assert (
        len(list((tmp_path / job_log.EVENINGS).iterdir()))
        == nightly_copy_and_evening_sheet.KEPT_SHEETS
    )
    with store.write_tx():
        customer = customers.add(store, Act(CLOSING), "Ada Vole", ("", "", ""))
    erasure.erase(store, Act(CLOSING), customer, "Ada Vole")
    assert list((tmp_path / job_log.EVENINGS).iterdir()) == []


def test_what_goes_wrong_is_noted_and_the_rest_is_done(store: Store, tmp_path: Path):
    """A file lies where the folder of copies should be."""
    (tmp_path / "copies").write_text("in the way")
    assert nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING + HOUR) == [EVENING, COPY]
    held = job_log.read(tmp_path)
    assert held[EVENING].fault == ""
    assert "FileExistsError" in held[COPY].fault
    (tmp_path / "copies").unlink()
    assert nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING + HOUR + 5 * MINUTE) == []
    assert nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING + HOUR + 10 * MINUTE) == [
        COPY
    ]
    assert job_log.read(tmp_path)[COPY].fault == ""


@pytest.mark.parametrize(
    "error",
    [
        NoRoom("The disk is full."),
        MemoryError(),
        RecursionError(),
        UnicodeEncodeError("ascii", "ł", 0, 1, "no"),
    ],
)
def test_whatever_stops_a_duty_is_told_without_a_name(
    store: Store, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: Exception
):
    def stop(*_: object) -> str:
        raise error

    monkeypatch.setattr(nightly_copy_and_evening_sheet, "make_evening", stop)
    assert nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING + HOUR) == [EVENING, COPY]
    fault = job_log.read(tmp_path)[EVENING].fault
    assert fault
    assert "ł" not in fault
    assert job_log.read(tmp_path)[COPY].fault == ""


def test_a_note_that_was_broken_off_counts_as_nothing_done(store: Store, tmp_path: Path):
    (tmp_path / job_log.FILE).write_text('{"copy": {"tried_at"')
    assert nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING + HOUR) == [EVENING, COPY]


def test_forms_that_nobody_went_on_with_go_with_the_copy(store: Store, tmp_path: Path):
    with store.write_tx():
        for name, at in (("an-old-one", CLOSING - 15 * 24 * HOUR), ("a-new-one", CLOSING - HOUR)):
            row = {"kind": "parked", "form": "[]", "words": "/", "updated_at": utc_text(at)}
            store.insert("drafts", id=name, **row)
    nightly_copy_and_evening_sheet.keep(tmp_path, None, CLOSING + HOUR)
    assert [row["id"] for row in store.rows("SELECT id FROM drafts")] == ["a-new-one"]


KEEP = """
import sys
from datetime import datetime, timezone
from pathlib import Path
from fitcounter.desk.data import nightly_copy_and_evening_sheet
from fitcounter.desk.documents import claim_check_and_tags
claim_check_and_tags.ready = lambda: "a page is quicker than a PDF"
print("ready", flush=True)
sys.stdin.readline()
now = datetime(2026, 3, 17, 23, 0, tzinfo=timezone.utc)
print(*nightly_copy_and_evening_sheet.keep(Path(sys.argv[1]), None, now))
"""


def test_two_processes_that_look_at_the_same_instant_do_it_once(store: Store, tmp_path: Path):
    line = [sys.executable, "-c", KEEP, str(tmp_path)]
    both = [
        subprocess.Popen(
            line, cwd=CHECKOUT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        for _ in range(2)
    ]
    for one in both:
        assert one.stdout is not None
        assert one.stdout.readline() == "ready\n"
    told = sorted(one.communicate("go\n", timeout=60)[0].strip() for one in both)
    assert told == ["", f"{EVENING} {COPY}"]
    assert len(backup.copies(tmp_path / "copies")) == 1


def test_a_copy_by_hand_waits_for_the_one_that_is_being_made(store: Store, tmp_path: Path):
    with job_log.alone(tmp_path, wait=True) as first:
        assert first
        thread = threading.Thread(
            target=copy_and_bring_back.make_copy, args=(tmp_path, None, CLOSING)
        )
        thread.start()
        thread.join(0.3)
        assert thread.is_alive()
        assert not (tmp_path / "copies").exists()
    thread.join(30)
    assert len(backup.copies(tmp_path / "copies")) == 1
