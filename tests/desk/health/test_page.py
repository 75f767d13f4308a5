"""What the health page and `fitcounter check` say: each line is right or says what to do, and both
say the same.
"""

from __future__ import annotations

from collections import namedtuple
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from support.cast import Clock, Counter
from support.ticket_rows import make_job

from fitcounter.cli.main import main
from fitcounter.desk.data import nightly_copy_and_evening_sheet as nightly
from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.health import page as health
from fitcounter.desk.health.line import HealthLine
from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import signed_out_forms as staff_signed_out_forms
from fitcounter.errors import Unavailable
from fitcounter.serving import background_thread, certificate
from fitcounter.settings import Settings
from fitcounter.store import database, job_log
from fitcounter.store.database import utc_text
from fitcounter.store.job_log import Duty

EVENING = datetime(2026, 3, 17, 23, 0, tzinfo=UTC)  # an hour after closing in New York


def lines(store: Store, data_dir: Path, now: datetime) -> dict[str, HealthLine]:
    days_left = certificate.days_left_if_any(data_dir / "certificate", now)
    return {one.what: one for one in health.look(store, data_dir, now, days_left)}


def test_a_shop_that_kept_its_evening_and_follows_elsewhere_wants_nothing(
    store: Store, tmp_path: Path
):
    nightly.keep(tmp_path, None, EVENING)
    data_replica.note(tmp_path, Path("/proc"), EVENING + timedelta(minutes=5))
    found = lines(store, tmp_path, EVENING + timedelta(minutes=5))
    assert [one for one in found.values() if not one.good] == []
    assert (
        found["Last copy"].words == "Mar 17, 2026, 7:00 PM, checked and good, but on the same disk"
    )
    assert found["Evening sheet"].words == "Mar 17, 2026, 7:00 PM, evening-2026-03-17-1900.pdf"
    assert database.dbapi.sqlite_version in found["Data file"].details


def test_while_every_copy_lies_on_one_disk_all_is_not_well(store: Store, tmp_path: Path):
    """No copy, one on the shop's own disk, an off-site copy on it: each says that the shop would be
    gone. A copy elsewhere, or an off-site copy on another disk, ends it.
    """
    gone = "If this computer dies, the shop is gone"
    assert gone in lines(store, tmp_path, EVENING)["Off-site copy"].todo
    nightly.keep(tmp_path, None, EVENING)
    assert gone in lines(store, tmp_path, EVENING)["Off-site copy"].todo
    data_replica.note(tmp_path, tmp_path.parent, EVENING)
    assert gone in lines(store, tmp_path, EVENING)["Off-site copy"].todo
    data_replica.note(tmp_path, Path("/proc"), EVENING)  # another disk than any folder of a test
    assert lines(store, tmp_path, EVENING)["Off-site copy"].good


def test_what_the_machine_did_in_vain_is_told(store: Store, tmp_path: Path):
    job_log.write(tmp_path, {nightly.COPY: Duty(utc_text(EVENING), "", "The disk is full.")})
    assert "The disk is full." in lines(store, tmp_path, EVENING)["Program"].todo


def test_a_clock_that_goes_back_or_lost_its_battery_is_told(
    store: Store, tmp_path: Path, clock: Clock
):
    make_job(store, Act(clock.now))
    store.once(Act(clock.now), "job", lambda: database.Written())
    assert lines(store, tmp_path, clock.now)["Clock"].good
    assert (
        "Set this computer’s clock"
        in lines(store, tmp_path, clock.now - timedelta(seconds=1))["Clock"].todo
    )
    assert (
        "Set this computer’s clock"
        in lines(store, tmp_path, datetime(1970, 1, 1, tzinfo=UTC))["Clock"].todo
    )


def test_a_form_that_came_too_late_is_told(store: Store, tmp_path: Path, clock: Clock):
    staff_signed_out_forms.keep(store, Act(clock.now, 1), "/items/1/prepare", [("prepared", "dry")])
    found = lines(store, tmp_path, clock.now)["Forms not saved yet"]
    assert found.words.startswith("1 sent after signing out")
    assert "Sign in and save yours under My passphrase and PIN" in found.todo


def test_papers_that_nobody_could_be_asked_about_are_told(
    store: Store, tmp_path: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    def dies() -> str:
        raise Unavailable("This paper could not be made. Try again.")

    monkeypatch.setattr(documents_ticket, "ready", dies)
    found = lines(store, tmp_path, clock.now)["Papers"]
    assert found.todo == "This paper could not be made. Try again."


def test_a_full_disk_a_broken_audit_and_missing_pango_are_told(
    store: Store, tmp_path: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(
        health.shutil, "disk_usage", lambda path: namedtuple("Usage", "free")(499 * 1024 * 1024)
    )
    monkeypatch.setattr(documents_ticket, "ready", lambda: "PDFs need the library Pango.")
    store.once(Act(clock.now), "job", lambda: database.Written())
    store.db.execute("DROP TRIGGER audit_no_update")
    store.db.execute("UPDATE audit SET what = 'else' WHERE id = 1")
    found = lines(store, tmp_path, clock.now)
    assert "Make room" in found["Room on the disk"].todo
    assert "Pango" in found["Papers"].todo
    assert "from row 1 on" in found["Log of who did what"].words
    assert "fitcounter restore" in found["Log of who did what"].todo


def test_a_missed_evening_sheet_is_told_an_hour_after_closing(store: Store, tmp_path: Path):
    closing = EVENING - timedelta(hours=1)
    nightly.keep(tmp_path, None, closing - timedelta(hours=2))
    assert lines(store, tmp_path, closing + timedelta(hours=1))["Evening sheet"].good
    assert not lines(store, tmp_path, closing + timedelta(hours=1, seconds=1))["Evening sheet"].good


def test_the_certificates_days_are_told(store: Store, tmp_path: Path, clock: Clock):
    assert lines(store, tmp_path, clock.now)["Certificate"].words == "none of the shop’s own"
    certificate.make(tmp_path / "certificate", ["boots.local"], "Shop", clock.now)
    left = certificate.days_left(tmp_path / "certificate", clock.now)
    assert lines(store, tmp_path, clock.now)["Certificate"].words == f"{left} days left"
    late = clock.now + timedelta(days=left - 19)
    assert "that renews it" in lines(store, tmp_path, late)["Certificate"].todo


def test_whether_the_program_serves_the_shop_is_told(store: Store, tmp_path: Path, clock: Clock):
    assert "not running" in lines(store, tmp_path, clock.now)["Program"].words
    with background_thread.keeping(Settings(data_dir=tmp_path), clock):
        assert "made on time" in lines(store, tmp_path, clock.now)["Program"].words


def test_the_page_and_the_command_say_the_same(
    store: Store, tmp_path: Path, owner: Counter, clock: Clock, capsys: pytest.CaptureFixture[str]
):
    """The command exits 1 while something wants a hand; its clock is the machine's own, so the
    lines with an hour are left out.
    """
    page = owner.get("/shop/health").text
    assert main(["check", "--data", str(tmp_path)]) == 1
    told = capsys.readouterr().out
    for one in health.look(store, tmp_path, clock.now):
        assert f"<dt>{one.what}</dt>" in page
        assert f"  {one.what}: " in told
        if one.what not in ("Clock", "Room on the disk"):
            assert one.words.replace("'", "&#39;") in page
            assert one.words in told
    assert "ok  Data file" in told
    assert "!   Last copy: none yet. Run “fitcounter backup”" in told
