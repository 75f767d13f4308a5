"""A ticket opened at the counter, and the draft that it ends."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from support.new_jobs import WHO, boots, taken_in

from fitcounter.desk import shop
from fitcounter.desk.common import drafts
from fitcounter.desk.data import erasure
from fitcounter.desk.intake import new_job
from fitcounter.desk.intake.job_records import NewJob, Thing, Who
from fitcounter.errors import BadInput, Conflict
from fitcounter.store import customers, items, tickets
from fitcounter.store.database import Act, Store


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
