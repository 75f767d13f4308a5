"""More work on what is here already, before and after the price is agreed."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.desk.bench import other_work
from fitcounter.desk.bench.other_work import WorkStepInput
from fitcounter.desk.common import money
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import speech
from fitcounter.desk.customer import phrases
from fitcounter.desk.plan import ready_day
from fitcounter.desk.quote import price_list
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import cancel, cancel_page, more_work, price_change
from fitcounter.desk.tickets.more_work import WorkInput
from fitcounter.desk.tickets.price_change import LineInput as PriceLineInput
from fitcounter.desk.tickets.price_change import PriceChange
from fitcounter.errors import BadInput, Conflict, FitCounterError, OutOfOrder
from fitcounter.store import bills, items, tickets, works
from fitcounter.store.database import Act, Store

YES = PriceChange(lines=(), why="asked for by phone", yes="phone")


def typed(job: Job, what: str, **more: object) -> WorkInput:
    both = frozenset((job.left, job.right))
    told: dict[str, object] = {"what": what, "item_ids": both, "asks": YES, **more}
    return WorkInput(**told)  # type: ignore[arg-type]


def due(store: Store, job: Job) -> int:
    ticket = tickets.get(store, job.ticket_id)
    lines = bills.lines(store, ticket.id)
    return money.sums(ticket, lines, bills.payments(store, ticket.id)).due_minor


@pytest.fixture
def listed(store: Store, act: Act) -> None:
    entry = EntryInput(what="Heel tips", price_minor=900, days=2)
    price_list.save(store, act, "heel-tips", entry)


def test_two_letters_add_work_to_both_boots_with_its_price_and_the_customers_yes(
    store: Store, act: Act, choices: Shop, job: Job, listed: None, tmp_path: Path
):
    before = due(store, job)
    told = more_work.add(store, act, choices, job.ticket_id, typed(job, "heel ti"), tmp_path).words
    assert told == "Heel tips is added: $18.00."
    assert due(store, job) == before + 1800
    (line,) = [one for one in bills.lines(store, job.ticket_id) if "tips" in one.what]
    assert (line.what, line.kind, line.amount_minor) == ("Heel tips, both boots", "job", 1800)
    assert tickets.consents(store, job.ticket_id)[-1].how == "phone"
    (row,) = more_work.of_ticket(store, job.ticket_id)
    assert [item.side for item, _ in row.where] == ["left", "right"]
    assert not row.may_drop
    lines = works.lines_of_ticket(store, job.ticket_id)
    held = items.of_ticket(store, job.ticket_id)
    (boots, _bag) = phrases.item_lines(held, speech("en"), lines)
    assert (boots.count, boots.note) == (2, "Heel tips"), "no third thing on the claim check"
    assert phrases.item_lines(held, speech("es"), lines)[0].note == "Tapas de tacón"


def test_nothing_is_added_without_the_customers_yes_a_price_or_a_thing(
    store: Store, act: Act, choices: Shop, job: Job, listed: None, tmp_path: Path
):
    before = due(store, job)
    for wrong, field in (
        (typed(job, "heel tips", asks=None), "yes"),
        (typed(job, "new zip"), "price"),
        (typed(job, "heel"), "what"),
        (typed(job, "h"), "what"),
        (typed(job, "heel tips", item_ids=frozenset()), "items"),
        (typed(job, "heel tips", price=900_000), "odd"),
        (typed(job, "4111 1111 1111 1111", price=1), "what"),
    ):
        with pytest.raises(BadInput) as refused:
            more_work.add(store, act, choices, job.ticket_id, wrong, tmp_path)
        assert refused.value.field == field
    stale = typed(job, "heel tips", version=99)
    with pytest.raises(Conflict):
        more_work.add(store, act, choices, job.ticket_id, stale, tmp_path)
    assert due(store, job) == before
    assert works.of_ticket(store, job.ticket_id) == []


def test_what_the_shop_does_not_do_is_answered_in_a_line_and_kept_as_asked_for(
    store: Store, act: Act, choices: Shop, job: Job, tmp_path: Path
):
    before = due(store, job)
    told = more_work.add(store, act, choices, job.ticket_id, typed(job, "longer"), tmp_path).words
    assert told == "We do not lengthen feet. Leather gives in width, not in length."
    (row,) = more_work.of_ticket(store, job.ticket_id)
    assert (row.name, row.answer, row.where) == ("Foot made longer", told, ())
    assert due(store, job) == before


def test_what_is_ready_goes_back_to_the_bench_for_more_work(
    store: Store, act: Act, choices: Shop, job: Job, listed: None, tmp_path: Path
):
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, act, item_id, "shelved", StepInput(act.at))
    ids = frozenset((job.left, job.bag))
    more = typed(job, "heel tips", item_ids=ids)
    more_work.add(store, act, choices, job.ticket_id, more, tmp_path)
    found = [items.get(store, one).state for one in (job.left, job.right, job.bag)]
    assert found == ["finishing", "shelved", "queued"]


def test_the_day_follows_the_work(
    store: Store, act: Act, choices: Shop, job: Job, listed: None, tmp_path: Path
):
    catch_up(store, act, job.left, "finishing", StepInput(act.at))
    catch_up(store, act, job.right, "finishing", StepInput(act.at))
    ticket = tickets.get(store, job.ticket_id)
    today = choices.today(act.at)

    def day_of_left() -> date | None:
        days = ready_day.ready_days(store, choices, today, [ticket.id])
        return days.of_item(
            items.get(store, job.left), ticket, items.of_ticket(store, ticket.id)
        ).day

    before = day_of_left()
    more_work.add(store, act, choices, job.ticket_id, typed(job, "heel tips"), tmp_path)
    after = day_of_left()
    assert before is not None
    assert after is not None
    assert (after - before).days == 2


def test_cancelling_charges_the_work_that_is_done_and_gives_the_rest_up(
    store: Store, act: Act, choices: Shop, job: Job, listed: None, tmp_path: Path
):
    more_work.add(store, act, choices, job.ticket_id, typed(job, "heel tips"), tmp_path)
    page = cancel_page.look(store, choices, job.ticket_id)
    assert page.charge_minor == 0
    lines = works.lines_of_ticket(store, job.ticket_id)
    other_work.set_line(store, act, lines[0].id, act.at, WorkStepInput("done"))
    page = cancel_page.look(store, choices, job.ticket_id)
    assert (page.charge_minor, job.left in page.half_done) == (None, True)
    other_work.set_line(store, act, lines[1].id, act.at, WorkStepInput("done"))
    assert cancel_page.look(store, choices, job.ticket_id).charge_minor == 1800
    other_work.set_line(store, act, lines[1].id, act.at, WorkStepInput("waiting"))
    whole = cancel.Cancellation(item_id=None, charge_minor=900)
    cancel.cancel(store, act, choices, job.ticket_id, whole, tmp_path)
    assert [one.state for one in works.lines_of_ticket(store, job.ticket_id)] == [
        "done",
        "not-done",
    ]
    cancel.undo(store, act, choices, job.ticket_id)
    assert [one.state for one in works.lines_of_ticket(store, job.ticket_id)] == [
        "done",
        "waiting",
    ]


def test_a_price_line_taken_out_gives_its_work_up(
    store: Store, act: Act, choices: Shop, job: Job, listed: None, tmp_path: Path
):
    more_work.add(store, act, choices, job.ticket_id, typed(job, "heel tips"), tmp_path)
    lines = tuple(
        PriceLineInput(one.id, "" if "tips" in one.what else one.what, one.amount_minor)
        for one in bills.lines(store, job.ticket_id)
    )
    change = PriceChange(lines=lines, why="not wanted after all")
    price_change.change(store, act, choices, job.ticket_id, change, tmp_path)
    assert {one.state for one in works.lines_of_ticket(store, job.ticket_id)} == {"not-done"}
    assert works.of_ticket(store, job.ticket_id)[0].line_id is None


def test_before_the_price_is_agreed_work_needs_no_yes_and_can_be_taken_out(
    store: Store, act: Act, choices: Shop, listed: None, tmp_path: Path
):
    fresh = make_job(store, act, "Tobias", state="counter")
    lines = len(bills.lines(store, fresh.ticket_id))
    asked = typed(fresh, "heel tips", asks=None)
    more_work.add(store, act, choices, fresh.ticket_id, asked, tmp_path)
    assert len(bills.lines(store, fresh.ticket_id)) == lines
    (row,) = more_work.of_ticket(store, fresh.ticket_id)
    assert row.may_drop
    more_work.drop(store, act, fresh.ticket_id, row.row.id)
    assert works.lines_of_ticket(store, fresh.ticket_id) == []
    with pytest.raises(Conflict):
        more_work.drop(store, act, fresh.ticket_id, row.row.id)


def test_nothing_is_added_to_what_is_gone(
    store: Store, act: Act, choices: Shop, home: Job, listed: None, tmp_path: Path
):
    with pytest.raises(OutOfOrder, match="here any more") as refused:
        more_work.add(store, act, choices, home.ticket_id, typed(home, "heel tips"), tmp_path)
    assert isinstance(refused.value, FitCounterError)
