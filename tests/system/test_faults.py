"""The disk fails at each write of each form, one after the other: all or nothing, and what was
typed is on the page that says so.

One job goes through the shop, from New job to coming back and being erased, and every other form of
the program beside it.
"""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import pytest
from flask import Flask
from support.cast import PASSPHRASE, Counter
from support.counter_forms import fresh
from support.disk_trouble import full_disk
from support.living_file import opened_otherwise
from support.till import Answer, Till
from support.whole_shop import WholeShop
from system.life import Life
from system.life_steps import go_through

from fitcounter.desk.shop import open_store
from fitcounter.desk.staff import first_run as staff_first_run
from fitcounter.settings import Settings
from fitcounter.web import create_app
from fitcounter.web.bench.filled_in_step import FORMS

KINDS = (("full", False), ("broken", True))
# A shop without people is needed for the first: it has a life of its own below. The second sends an
# e-mail and writes nothing.
APART = {"owner.first_run", "owner.mail_test"}


def every_form(app: Flask) -> set[str]:
    """Each rule that takes a form, and each step of the bench by its name."""
    taking = {rule.endpoint for rule in app.url_map.iter_rules() if "POST" in (rule.methods or ())}
    return (taking - {"items.take"}) | {f"items.take {step}" for step in FORMS}


def test_every_form_of_the_program_is_all_or_nothing_when_the_disk_is_full(
    played: Path, whole: WholeShop, tmp_path: Path
) -> None:
    """One write of each form fails, another for each; no form of the program is left out. Failed
    or saved, none opens the living file past SQLite (tests/system/test_living_file.py).
    """
    with opened_otherwise() as seen:
        gone = go_through(played, tmp_path / "life", "full", for_ever=False, thorough=False)
    assert seen == []
    assert set(gone.tried) == every_form(whole.app) - APART
    assert sum(gone.tried.values()) >= 80


@pytest.mark.slow
def test_a_disk_that_fails_at_any_write_leaves_all_or_nothing_of_any_form(
    played: Path, whole: WholeShop, tmp_path: Path
) -> None:
    """Every write of every form: full once, and broken from then on."""
    with ProcessPoolExecutor(len(KINDS), get_context("spawn")) as pool:
        begun = [
            pool.submit(go_through, played, tmp_path / kind, kind, for_ever)
            for kind, for_ever in KINDS
        ]
        both = [one.result() for one in begun]
    for gone, (kind, _) in zip(both, KINDS, strict=True):
        assert set(gone.tried) == every_form(whole.app) - APART
        assert not [
            form for form, tried in gone.tried.items() if not tried and form != "items.retag_page"
        ], "every form that writes was tried"
        print(
            f"{kind}: {sum(gone.tried.values())} faults in {len(gone.tried)} forms, {gone.stood}"
            f" times saved all the same, {gone.busy_s:.0f} s busy"
        )
    assert sum(sum(gone.tried.values()) for gone in both) >= 2000


def test_a_first_run_is_all_or_nothing_and_keeps_its_word(
    tmp_path: Path, clock: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every write of it, full or broken; set up, the owner is led on even where signing in could
    not be written.
    """
    store = open_store(tmp_path / "shop.db")
    app = create_app(Settings(data_dir=tmp_path, testing=True), clock)  # type: ignore[arg-type]
    life = Life(WholeShop(app, clock, store, {}), monkeypatch, KINDS, second=("signed-in",))
    word = staff_first_run.new_setup_token(store, life.shop.clock.now)
    rosa = Counter(app.test_client())
    rosa.get(f"/first-run?setup_token={word}")
    typed: dict[str, object] = {
        "setup_token": word,
        "shop_name": "Tanyard Stretch",
        "zone": "Europe/Lisbon",
        "opens_at": "10:00",
        "closes_at": "19:00",
        "price": "85",
        "trees_s": "0",
        "trees_m": "2",
        "trees_l": "1",
        "limits": "careful",
        "name": "Rosa",
        "initials": "RO",
        "passphrase": PASSPHRASE,
    }
    life.write("/first-run", typed, rosa)
    assert rosa.get("/shop").status_code == 200
    assert life.tried["owner.first_run"] > 20
    assert life.stood > 0
    store.close()


def test_what_was_seen_on_a_boot_outlives_a_full_disk(
    whole: WholeShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The word that was picked is on the page of the full disk, for the save that comes after
    it.
    """
    till = Till(whole, "bench")
    path = f"/items/{till.boots.left}/finding"  # the pair is made while there is room
    sent: dict[str, object] = {
        "submission_id": fresh(),
        "word": "scuffs",
        "place": "toe",
        "note": "shallow",
    }
    with full_disk(till.store, monkeypatch):
        answer = till.post(path, sent)
    assert (answer.code, Answer(0, answer.text, sent).missing()) == (507, [])
