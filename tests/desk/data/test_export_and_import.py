"""The whole shop goes out as one file and comes back the same; one customer gets all of theirs and
nothing of others.
"""

from __future__ import annotations

import csv
import io
import json
import re
import zipfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from support.cast import PASSPHRASE, Clock, Counter
from support.taken_out import taken_out
from support.ticket_rows import Job, make_job

from fitcounter.cli.main import main
from fitcounter.desk.data import export_and_import
from fitcounter.desk.staff import first_run as staff_first_run
from fitcounter.errors import BadInput, Conflict, FitCounterError, NotFound
from fitcounter.settings import Settings, load_keys
from fitcounter.store import audit_key, every_table, integrity, settings
from fitcounter.store.database import Act, Store
from fitcounter.store.opening import open_store
from fitcounter.web import create_app


@pytest.fixture
def full(store: Store, act: Act, job: Job, tmp_path: Path) -> Job:
    """A shop with figures, words of other scripts, a fraction, an audit and pictures."""
    other = make_job(store, act, "=cmd|'Ítalo 張")
    with store.write_tx():
        store.insert(
            "predictions",
            item_id=job.left,
            made_at="2026-03-17T14:00:00Z",
            assessment="{}",
            tier="likely",
            kept_mean=0.1 + 0.2,
        )
        store.insert(
            "drafts",
            id="z" * 20,
            kind="new",
            form="[]",
            words="last in the alphabet, first made",
            updated_at="2026-03-17T14:00:00Z",
        )
        store.insert(
            "drafts",
            id="a" * 20,
            kind="new",
            form="[]",
            words="made later",
            updated_at="2026-03-17T14:00:00Z",
        )
        photo = {
            "width_px": 1,
            "height_px": 1,
            "bytes": 6,
            "content_hash": "",
            "taken_at": "2026-03-17T14:00:00Z",
        }
        store.insert("photos", ticket_id=other.ticket_id, moment="before", file="p.jpg", **photo)
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "p.jpg").write_bytes(bytes(range(256)))
    return other


def test_a_shop_that_goes_out_comes_back_with_the_same_content(
    store: Store, full: Job, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    file, there = tmp_path / "shop.json", tmp_path / "there"
    assert main(["export", str(file), "--data", str(tmp_path)]) == 0
    assert file.stat().st_mode & 0o077 == 0
    assert main(["import", str(file), "--data", str(there)]) == 0
    assert "tickets: 2" in capsys.readouterr().out
    back = open_store(there / "shop.db")
    assert every_table.business_hash(back) == every_table.business_hash(store)
    assert integrity.broken_link(back, audit_key.of_folder(back.path.parent)) is None
    assert back.value("SELECT count(*) FROM audit") > 0
    assert back.value("SELECT kept_mean FROM predictions") == 0.1 + 0.2
    back.close()
    assert (there / "photos" / "p.jpg").read_bytes() == bytes(range(256))


def test_every_table_is_taken_out_or_named_as_the_machines_own(store: Store):
    assert set(taken_out(store)) | set(every_table.OF_THE_MACHINE) == set(integrity.tables(store))


def test_every_table_that_leads_to_a_customer_is_in_the_customers_copy(store: Store):
    """But the way back of a bench step and the bench's last plan, which say nothing that the steps
    and days do not.
    """
    leads = {
        table
        for table in every_table.business(store)
        if {str(row[2]) for row in store.db.execute(f'PRAGMA foreign_key_list("{table}")')}
        & {"customers", "tickets", "items", "fits", "rounds", "wear_plans"}
    }
    assert leads - {"undos", "bench_days"} <= set(every_table.OF_CUSTOMER)


def test_nothing_is_written_over(store: Store, full: Job, tmp_path: Path, clock: Clock):
    file = tmp_path / "shop.json"
    export_and_import.export(tmp_path, file, clock.now)
    with pytest.raises(Conflict, match="there already"):
        export_and_import.export(tmp_path, file, clock.now)
    before = integrity.content_hash(store)
    with pytest.raises(Conflict):
        export_and_import.bring_in(file, tmp_path)
    (tmp_path / "photos" / "p.jpg").unlink()
    with pytest.raises(Conflict, match="a shop in that folder"):
        export_and_import.bring_in(file, tmp_path)
    assert integrity.content_hash(store) == before
    with pytest.raises(NotFound):
        export_and_import.export(tmp_path / "nowhere", tmp_path / "n.json", clock.now)


def test_a_file_that_could_not_be_written_whole_is_not_in_the_way(
    store: Store, full: Job, tmp_path: Path, clock: Clock
):
    with store.write_tx():
        store.db.execute("UPDATE predictions SET kept_mean = 9e999")  # no number that JSON has
    with pytest.raises(ValueError, match="JSON"):
        export_and_import.export(tmp_path, tmp_path / "shop.json", clock.now)
    assert not (tmp_path / "shop.json").exists()


WRONG: dict[str, Callable[[dict[str, Any]], object]] = {
    "a figure changed": lambda told: told["tables"]["payments"]["rows"][0].__setitem__(4, 1),
    "a row gone": lambda told: told["tables"]["items"]["rows"].pop(),
    "a name that leads out": lambda told: told["files"].__setitem__("photos/../../out.jpg", ""),
    "a picture that is no base64": lambda told: told["files"].__setitem__("photos/q.jpg", "%%%"),
    "a column of another kind": (
        lambda told: told["tables"]["items"]["columns"].__setitem__(0, "id) VALUES (1); --")
    ),
    "a table too many": (
        lambda told: told["tables"].__setitem__("sessions", {"columns": [], "rows": []})
    ),
    "a row too short": lambda told: told["tables"]["tickets"]["rows"][0].pop(),
    "a list in a cell": lambda told: told["tables"]["tickets"]["rows"][0].__setitem__(1, [1]),
    "words for a figure": lambda told: told["tables"]["tickets"]["rows"][0].__setitem__(1, "many"),
    "a table that is none": lambda told: told["tables"].__setitem__("items", 3),
    "another kind": lambda told: told.__setitem__("kind", "something"),
}


@pytest.mark.parametrize("wrong", WRONG)
def test_a_file_that_is_not_right_puts_nothing_in(
    store: Store, full: Job, tmp_path: Path, clock: Clock, wrong: str
):
    file, there = tmp_path / "shop.json", tmp_path / "there"
    export_and_import.export(tmp_path, file, clock.now)
    told = json.loads(file.read_text())
    WRONG[wrong](told)
    file.write_text(json.dumps(told))
    with pytest.raises(FitCounterError):
        export_and_import.bring_in(file, there)
    assert not list(tmp_path.parent.glob("out.jpg"))
    assert not (there / "photos").exists()
    if (there / "shop.db").exists():
        back = open_store(there / "shop.db")
        assert every_table.is_empty(back)
        back.close()


@pytest.mark.parametrize("text", ["", "[]", "{}", "not json", "\xff", "[" * 100_000])
def test_what_is_no_file_of_ours_is_a_sentence(tmp_path: Path, text: str):
    (tmp_path / "x.json").write_text(text, encoding="latin-1")
    with pytest.raises(BadInput, match="fitcounter export"):
        export_and_import.bring_in(tmp_path / "x.json", tmp_path / "there")


def test_a_customer_gets_all_of_theirs_and_nothing_of_anybody_else(store: Store, full: Job):
    customer = int(store.value("SELECT customer_id FROM tickets WHERE id = ?", full.ticket_id))
    told = json.loads(export_and_import.customer_json(store, customer))
    assert [row["id"] for row in told["tables"]["tickets"]] == [full.ticket_id]
    assert [row["id"] for row in told["tables"]["items"]] == [full.left, full.right, full.bag]
    assert list(told["files"]) == ["photos/p.jpg"]
    assert "Marisol" not in json.dumps(told)
    assert "link_hash" not in json.dumps(told)


def test_no_cell_of_the_customers_csv_is_a_formula(store: Store, full: Job):
    customer = int(store.value("SELECT customer_id FROM tickets WHERE id = ?", full.ticket_id))
    told = export_and_import.customer_csv(store, customer).decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(told)))
    values = {(row["where"], row["what"]): row["value"] for row in rows}
    assert values["customers", "name"] == "'=cmd|'Ítalo 張"
    assert values["customers", "phone_e164"] == "'+15550100142"
    assert not any(cell[:1] in ("=", "+", "-", "@") for row in rows for cell in row.values())


def test_what_opens_a_door_stays_behind_and_the_owner_is_let_in_once(
    store: Store, full: Job, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    """No key, no hash of a passphrase or PIN, no phone of the shop, no session; a passphrase by
    chance for the first owner.
    """
    held = str(store.value("SELECT passphrase_hash FROM staff LIMIT 1"))
    load_keys(tmp_path)
    staff_first_run.new_setup_token(
        open_store(tmp_path / "new.db"), datetime(2026, 3, 17, tzinfo=UTC)
    )
    with store.write_tx():
        settings.put(store, "first_run", ["a-hash-of-a-word", ""])
        store.insert("phones", label="bench phone", secret_hash="hash-of-a-phone")
    file, there = tmp_path / "shop.json", tmp_path / "there"
    assert main(["export", str(file), "--data", str(tmp_path)]) == 0
    text = file.read_text(encoding="utf-8")
    for secret in (
        held,
        load_keys(tmp_path).csrf_key,
        load_keys(tmp_path).secret_key,
        "a-hash-of-a-word",
        "hash-of-a-phone",
        "passphrase_hash",
        "pin_hash",
    ):
        assert secret not in text
    there.mkdir()
    staff_first_run.new_setup_token(
        open_store(there / "shop.db"), datetime(2026, 3, 17, tzinfo=UTC)
    )  # it was started once, and nobody set it up
    assert main(["import", str(file), "--data", str(there)]) == 0
    told = re.search(r"Sign in once as (\w+) with (\S+) and choose", capsys.readouterr().out)
    assert told
    back = open_store(there / "shop.db")
    assert every_table.business_hash(back) == every_table.business_hash(store)
    assert [
        row["initials"]
        for row in back.rows("SELECT initials FROM staff WHERE passphrase_hash IS NOT NULL")
    ] == ["OW"]
    back.close()
    owner = Counter(create_app(Settings(data_dir=there, testing=True)).test_client())
    owner.get("/sign-in")
    assert owner.post("/sign-in", initials="CO", passphrase=PASSPHRASE).status_code != 303
    assert owner.post("/sign-in", initials=told[1], passphrase=told[2]).status_code == 303


def test_the_tables_for_a_spreadsheet_have_every_row_and_no_formula(
    store: Store, full: Job, tmp_path: Path
):
    file = tmp_path / "shop.zip"
    assert main(["export", str(file), "--data", str(tmp_path)]) == 0
    with zipfile.ZipFile(file) as archive:
        tables = {
            name: list(csv.reader(io.StringIO(archive.read(name).decode("utf-8-sig"))))
            for name in archive.namelist()
        }
    assert set(tables) == {f"{name}.csv" for name in every_table.business(store)}
    assert {name: len(rows) - 1 for name, rows in tables.items()} == {
        f"{name}.csv": len(table["rows"]) for name, table in taken_out(store).items()
    }
    names = [row[tables["customers.csv"][0].index("name")] for row in tables["customers.csv"][1:]]
    assert "'=cmd|'Ítalo 張" in names
    assert not any(
        cell[:1] in ("=", "+", "-", "@", "\t", "\r")
        for rows in tables.values()
        for row in rows
        for cell in row
    )


def test_a_file_that_is_neither_is_refused(store: Store, tmp_path: Path, clock: Clock):
    with pytest.raises(BadInput, match=r"\.json"):
        export_and_import.export(tmp_path, tmp_path / "shop.xlsx", clock.now)


def test_the_owner_takes_the_whole_shop_out_on_the_page(
    store: Store, full: Job, owner: Counter, tmp_path: Path
):
    """The same file as the command's, which goes into an empty shop again; the audit says that it
    went out, once for one submission.
    """
    page = owner.get("/shop/everything").text
    for words in ("This computer’s keys", "Passphrases and PINs", "phones", "fitcounter import"):
        assert words in page
    for _ in range(2):
        answer = owner.post("/shop/everything/json", submission_id="take-everything-1")
        assert answer.status_code == 200
    assert "attachment" in answer.headers["Content-Disposition"]
    (tmp_path / "got.json").write_bytes(answer.data)
    export_and_import.bring_in(tmp_path / "got.json", tmp_path / "there")
    back = open_store(tmp_path / "there" / "shop.db")
    assert every_table.business_hash(back) == every_table.business_hash(store)
    assert back.value("SELECT count(*) FROM audit WHERE what = 'taken-out'") == 1
    back.close()
    assert (tmp_path / "there" / "photos" / "p.jpg").read_bytes() == bytes(range(256))
    answer = owner.post("/shop/everything/csv", submission_id="take-everything-2")
    assert zipfile.ZipFile(io.BytesIO(answer.data)).testzip() is None
    assert owner.get("/shop/everything/json").status_code == 405
