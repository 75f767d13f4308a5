"""A ticket opened at the counter: its items, its guesses, what was seen; and a paper job put in as
it stands.
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from fitcounter.desk import shop
from fitcounter.desk.common import drafts
from fitcounter.desk.common.contact import read_phone
from fitcounter.desk.data import erasure
from fitcounter.desk.intake import in_progress, new_job
from fitcounter.desk.intake.in_progress import Already, Stands
from fitcounter.desk.intake.job_records import Boots, NewJob, Seen, Thing, Who
from fitcounter.errors import BadInput, Conflict
from fitcounter.store import bills, customers, findings, fits, items, rounds, tags, tickets
from fitcounter.store.database import Act, Store

WHO = Who("Marisol Okafor-Lind", read_phone("(412) 555-0142", "US"))


def boots(**changes: object) -> Boots:
    told: dict[str, object] = {
        "sides": ("left", "right"),
        "material": "supple-full-grain",
        "closure": "zip",
        "lining": "leather",
        **changes,
    }
    return Boots(**told)  # type: ignore[arg-type]


def taken_in(store: Store, act: Act, job: NewJob) -> tuple[int, int | None]:
    written = new_job.open_ticket(store, act, shop.read(store), job)
    assert written.ticket_id is not None
    return written.ticket_id, written.row_id


def test_a_pair_is_two_items_of_one_fit_and_a_bag_is_its_own(store: Store, act: Act):
    bag = Thing("bag", "black bag", "new handle", date(2026, 3, 24))
    ticket_id, fit_id = taken_in(store, act, NewJob(WHO, boots(), (bag,)))
    left, right, third = items.of_ticket(store, ticket_id)
    assert (left.side, right.side, third.side) == ("left", "right", None)
    assert left.fit_id == right.fit_id == fit_id
    assert (left.letter, right.letter, third.letter) == ("A", "A", "B")
    assert (third.kind, third.jobs, third.promised_day) == ("bag", "new handle", "2026-03-24")
    assert {one.state for one in (left, right, third)} == {"counter"}
    assert [step.step for step in items.steps(store, left.id)] == ["arrive"]


@pytest.mark.parametrize(("locale", "language"), [("es_ES", "es"), ("en_GB", "en")])
def test_a_new_customer_reads_what_the_shop_speaks(
    store: Store, act: Act, locale: str, language: str
):
    """Their papers and messages too, until they say otherwise."""
    shop.choose(store, act, locale=locale)
    ticket_id, _ = taken_in(store, act, NewJob(Who("Ada"), boots()))
    customer = customers.get(store, tickets.get(store, ticket_id).customer_id)
    assert customer.language == language


def test_what_was_not_measured_is_the_guess_of_its_class(store: Store, act: Act):
    _, fit_id = taken_in(store, act, NewJob(WHO, boots(lining="none")))
    left = fits.boots(store, fit_id or 0)[0]
    assert (left.thickness_um, left.lining_um, left.wall_um) == (1200, 0, 1200)
    assert json.loads(left.zip) == {
        "band_um": 30_000,
        "from_um": 60_000,
        "to_um": 900_000,
        "state": "sound",
    }
    assert (left.elastic, left.rigid) == ("", "[]")


def test_what_was_measured_replaces_the_guess(store: Store, act: Act):
    told = boots(
        closure="pull-on",
        thickness_um=1500,
        elastic_um=40_000,
        backstay_um=22_000,
        throat_um=300_000,
    )
    _, fit_id = taken_in(store, act, NewJob(WHO, told))
    left = fits.boots(store, fit_id or 0)[0]
    assert (left.zip, left.wall_um, left.throat_um) == ("", 2300, 300_000)
    assert json.loads(left.elastic)["width_um"] == 40_000
    assert json.loads(left.rigid)[0]["width_um"] == 22_000


def test_a_finding_stands_on_its_own_side_and_says_what_it_means(store: Store, act: Act):
    seen = (Seen("left", "zip-damaged", "at the top"), Seen("right", "dry-leather"))
    _, fit_id = taken_in(store, act, NewJob(WHO, boots(seen=seen)))
    left, right = fits.boots(store, fit_id or 0)
    assert (json.loads(left.zip)["state"], json.loads(right.zip)["state"]) == ("damaged", "sound")
    assert (left.age, right.age) == ("sound", "dry-or-old")
    assert [(one.word, one.place, one.moment) for one in findings.of_item(store, left.id)] == [
        ("zip-damaged", "at the top", "before")
    ]


def test_the_fit_has_the_shops_dial_and_the_hour_of_the_shop(store: Store, act: Act):
    shop.choose(store, act, limits="usual", max_rounds=5)
    _, fit_id = taken_in(store, act, NewJob(WHO, boots(), worn_with="sock"))
    fit = fits.get(store, fit_id or 0)
    assert (fit.limits, fit.max_rounds, fit.over) == ("usual", 5, "sock")
    assert fit.part_of_day == "morning"  # 14:00 UTC is ten o'clock in New York


def test_a_known_customer_is_not_kept_twice(store: Store, act: Act):
    first, _ = taken_in(store, act, NewJob(WHO, boots()))
    known = new_job.known(store, WHO.phone)
    assert [one.name for one in known] == ["Marisol Okafor-Lind"]
    second, _ = taken_in(store, act, NewJob(Who("", customer_id=known[0].id), boots()))
    assert tickets.get(store, first).customer_id == tickets.get(store, second).customer_id


def test_nothing_at_all_opens_no_ticket(store: Store, act: Act):
    with pytest.raises(BadInput) as refused:
        new_job.open_ticket(store, act, shop.read(store), NewJob(WHO, None))
    assert refused.value.field == "boots"
    assert store.value("SELECT count(*) FROM customers") == 0


def test_boots_still_at_home_are_expected_on_their_day(store: Store, act: Act):
    ticket_id, _ = taken_in(store, act, NewJob(WHO, boots(), arrives=date(2026, 4, 3)))
    assert {(one.state, one.waits_for) for one in items.of_ticket(store, ticket_id)} == {
        ("expected", "2026-04-03")
    }


def test_more_can_be_added_to_an_open_ticket_and_not_to_one_that_is_out(store: Store, act: Act):
    ticket_id, _ = taken_in(store, act, NewJob(WHO, boots()))
    belt = NewJob(Who(""), None, (Thing("belt", "brown belt", "one hole more"),))
    new_job.add_to_ticket(store, act, shop.read(store), ticket_id, belt)
    assert [one.letter for one in items.of_ticket(store, ticket_id)] == ["A", "A", "B"]
    with store.write_tx():
        store.change("tickets", ticket_id, state="out")
    with pytest.raises(Conflict):
        new_job.add_to_ticket(store, act, shop.read(store), ticket_id, belt)


def test_the_audit_has_no_name_and_no_number(store: Store, act: Act):
    taken_in(store, act, NewJob(WHO, boots(), note="Marisol will call"))
    said = str(store.rows("SELECT what, detail FROM audit"))
    assert "Marisol" not in said
    assert "0142" not in said


@pytest.fixture
def tree(store: Store) -> int:
    with store.write_tx():
        return store.insert("trees", label="4", side="left")


def half_done(*stands: Stands) -> Already:
    return Already(NewJob(WHO, boots()), stands, date(2026, 4, 10), 9000, 4500)


def test_a_paper_job_stands_where_it_stood_and_nothing_is_made_up(
    store: Store, act: Act, tree: int, tmp_path: Path
):
    told = half_done(
        Stands("left", "on-tree", date(2026, 3, 14), "4"),
        Stands("right", "shelved", date(2026, 3, 15), shelf="C2"),
    )
    written = in_progress.put_in(store, act, shop.read(store), told, tmp_path)
    left, right = items.of_ticket(store, written.ticket_id or 0)
    assert (left.state, right.state, right.shelf) == ("on-tree", "shelved", "C2")
    assert [(step.step, step.recorded) for step in items.steps(store, right.id)] == [
        ("arrive", 1),
        ("catch-up", 0),
    ]
    (running,) = rounds.of_item(store, left.id)
    assert (running.tree_id, running.before_um, running.rested_um) == (tree, None, None)
    assert running.on_at == "2026-03-14T16:00:00Z"  # noon in New York
    assert rounds.turns(store, running.id) == []
    assert (
        store.value("SELECT count(*) FROM bookings WHERE tree_id = ? AND kind = 'running'", tree)
        == 1
    )
    assert tags.of_item(store, left.id) is not None
    ticket = tickets.get(store, written.ticket_id or 0)
    assert ticket.promise_day == "2026-04-10"
    assert [one.amount_minor for one in bills.lines(store, ticket.id)] == [9000]
    assert [one.amount_minor for one in bills.payments(store, ticket.id)] == [4500]


@pytest.mark.parametrize(
    ("left", "field", "says"),
    [
        (Stands("left", "on-tree", date(2026, 3, 14)), "tree_left", "tree’s label"),
        (
            Stands("left", "on-tree", date(2026, 3, 14), "nine"),
            "tree_left",
            "No tree has that label",
        ),
    ],
)
def test_a_tree_that_is_not_there_is_asked_for_and_nothing_is_kept(
    store: Store, act: Act, tmp_path: Path, left: Stands, field: str, says: str
):
    with pytest.raises(BadInput, match=says) as refused:
        in_progress.put_in(
            store,
            act,
            shop.read(store),
            half_done(left, Stands("right", "queued", date(2026, 3, 14))),
            tmp_path,
        )
    assert refused.value.field == field
    assert store.value("SELECT count(*) FROM tickets") == 0
    assert store.value("SELECT count(*) FROM customers") == 0


def test_a_tree_holds_one_boot_and_only_of_its_own_side(
    store: Store, act: Act, tree: int, tmp_path: Path
):
    here = shop.read(store)
    in_progress.put_in(
        store,
        act,
        here,
        half_done(
            Stands("left", "on-tree", date(2026, 3, 14), "4"),
            Stands("right", "queued", date(2026, 3, 14)),
        ),
        tmp_path,
    )
    with pytest.raises(BadInput, match="Another boot is saved"):
        in_progress.put_in(
            store,
            act,
            here,
            half_done(
                Stands("left", "on-tree", date(2026, 3, 14), "4"),
                Stands("right", "queued", date(2026, 3, 14)),
            ),
            tmp_path,
        )
    with pytest.raises(BadInput, match="for left boots"):
        in_progress.put_in(
            store,
            act,
            here,
            half_done(
                Stands("left", "queued", date(2026, 3, 14)),
                Stands("right", "on-tree", date(2026, 3, 14), "4"),
            ),
            tmp_path,
        )
    assert store.value("SELECT count(*) FROM tickets") == 1


class Typed:
    """A form as it comes in."""

    def __init__(self, *pairs: tuple[str, str]) -> None:
        self.pairs = pairs

    def lists(self) -> list[tuple[str, list[str]]]:
        return [(name, [value]) for name, value in self.pairs]


def test_a_draft_keeps_what_was_typed_but_no_token(store: Store, act: Act):
    drafts.keep(
        store,
        act,
        "d" * 22,
        "new-job",
        Typed(("csrf_token", "secret"), ("name", "Mari"), ("note", "")),
    )
    assert drafts.typed(store, "d" * 22) == [("name", "Mari"), ("draft", "d" * 22)]
    assert [one.words for one in drafts.begun(store, "new-job")] == ["Mari"]


def test_a_draft_of_a_strange_name_or_of_any_length_is_refused(store: Store, act: Act):
    with pytest.raises(BadInput):
        drafts.keep(store, act, "../../etc", "new-job", Typed(("name", "Mari")))
    with pytest.raises(BadInput):
        drafts.keep(store, act, "d" * 22, "new-job", Typed(("note", "x" * 30_000)))
    assert drafts.begun(store, "new-job") == []
    assert drafts.typed(store, "../../etc") == []


def test_drafts_nobody_went_on_with_are_gone_after_two_weeks(
    store: Store, act: Act, clock, tmp_path: Path
):
    """Every night, and not by whoever keeps a form meanwhile: that clock may be wrong."""
    drafts.keep(store, act, "d" * 22, "new-job", Typed(("name", "Mari")))
    clock.on(days=15)
    drafts.keep(store, Act(clock.now, 1), "e" * 22, "new-job", Typed(("name", "Tobias")))
    assert [one.words for one in drafts.begun(store, "new-job")] == ["Tobias", "Mari"]
    erasure.tidy(store, tmp_path, tmp_path / "copies", clock.now)
    assert [one.words for one in drafts.begun(store, "new-job")] == ["Tobias"]


def test_opening_the_ticket_ends_its_draft(store: Store, act: Act):
    drafts.keep(store, act, "d" * 22, "new-job", Typed(("name", "Mari")))
    new_job.open_ticket(store, act, shop.read(store), NewJob(WHO, boots()), "d" * 22)
    assert drafts.begun(store, "new-job") == []
    assert customers.by_name(store, "okafor") != []
