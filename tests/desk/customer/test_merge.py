"""One person entered twice is made one, with both histories, and parted again."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.ticket_rows import Job, make_job

from fitcounter.desk.customer import merge
from fitcounter.desk.customer.merge import MergeInput
from fitcounter.desk.data import erasure
from fitcounter.desk.front_desk import search as front_desk_search
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, NotFound
from fitcounter.store import customers, erased_list, mails, tickets
from fitcounter.store.database import Act, Store


def whose(store: Store, job: Job) -> int:
    return tickets.get(store, job.ticket_id).customer_id


@pytest.fixture
def twice(store: Store, job: Job, act: Act) -> Job:
    """The same person entered again with the name reversed, other details, and a job that is
    done.
    """
    made = make_job(store, act, "Lind Okafor Marisol")
    with store.write_tx():
        store.change("tickets", made.ticket_id, state="out")
        row = {"phone_typed": "", "phone_e164": "", "phone_last4": ""}
        store.change("customers", whose(store, job), note="call after five", **row)
        other = {"email": "mari@example.org", "note": "the one with the dog"}
        store.change("customers", whose(store, made), **other)
    return made


def as_one(store: Store, act: Act, job: Job, twice: Job, **more: object) -> tuple[int, int]:
    kept, gone = whose(store, job), whose(store, twice)
    typed = MergeInput(**{"keep": kept, **more})  # type: ignore[arg-type]
    merge.merge(store, act, job.ticket_id, gone, typed)
    return kept, gone


def test_the_other_entry_is_suggested_and_both_histories_are_kept(
    store: Store, act: Act, choices: Shop, job: Job, twice: Job
):
    (seen,) = merge.suggestions(store, choices, job.ticket_id).alike
    assert seen.customer.id == whose(store, twice)
    kept, gone = as_one(store, act, job, twice)
    assert [one.id for one in tickets.of_customer(store, kept)] == [twice.ticket_id, job.ticket_id]
    now = customers.get(store, kept)
    assert (now.name, now.phone_last4, now.email) == (
        "Marisol Okafor-Lind",
        "0142",
        "mari@example.org",
    )
    assert now.note == "call after five\nthe one with the dog"
    assert customers.get(store, gone).name == "merged"
    today = choices.today(act.at)
    rows = front_desk_search.find(store, choices, "okafor marisol", today)
    assert {row.customer.id for row in rows} == {kept}
    assert merge.suggestions(store, choices, job.ticket_id).alike == ()


def test_undone_each_has_its_own_tickets_and_details_again(
    store: Store, act: Act, choices: Shop, job: Job, twice: Job
):
    before = [customers.get(store, whose(store, one)) for one in (job, twice)]
    as_one(store, act, job, twice)
    seen = merge.suggestions(store, choices, job.ticket_id)
    assert (str(seen.undo), seen.name) == ("2026-04-16", "Lind Okafor Marisol")
    merge.undo(store, act, job.ticket_id)
    after = [customers.get(store, whose(store, one)) for one in (job, twice)]
    told = [(one.id, one.name, one.phone_e164, one.email, one.note) for one in before]
    assert [(one.id, one.name, one.phone_e164, one.email, one.note) for one in after] == told
    with pytest.raises(Conflict, match="Nothing to undo"):
        merge.undo(store, act, job.ticket_id)


def test_details_that_were_changed_since_stay_when_it_is_undone(
    store: Store, act: Act, job: Job, twice: Job
):
    kept, _ = as_one(store, act, job, twice)
    with store.write_tx():
        version = customers.get(store, kept).version
        store.change("customers", kept, version, note="moved away")
    merge.undo(store, act, job.ticket_id)
    assert customers.get(store, kept).note == "moved away"
    assert whose(store, twice) != kept


def test_open_work_of_both_is_asked_about_and_a_change_by_somebody_else_is_told(
    store: Store, act: Act, job: Job, twice: Job
):
    with store.write_tx():
        store.change("tickets", twice.ticket_id, state="open")
    stamp = merge.look(store, job.ticket_id, whose(store, twice)).stamp
    with pytest.raises(BadInput, match="Both have open work") as asked:
        as_one(store, act, job, twice, stamp=stamp)
    assert asked.value.field == "sure"
    with store.write_tx():
        ticket = tickets.get(store, twice.ticket_id)
        store.change("tickets", ticket.id, ticket.version, note="somebody else")
    with pytest.raises(Conflict, match="Someone changed"):
        as_one(store, act, job, twice, stamp=stamp, sure=True)
    assert whose(store, twice) != whose(store, job)
    as_one(store, act, job, twice, sure=True)
    assert whose(store, twice) == whose(store, job)


def test_two_who_are_one_already_or_erased_are_not_merged(
    store: Store, act: Act, job: Job, twice: Job
):
    _, gone = as_one(store, act, job, twice)
    for other in (gone, whose(store, job)):
        with pytest.raises(Conflict, match="same customer already"):
            merge.look(store, job.ticket_id, other)
    with store.write_tx():
        elsewhere = customers.add(store, act, "Cy")
        store.change("customers", elsewhere, erased_at="2026-03-17T14:00:00Z")
    with pytest.raises(NotFound):
        merge.look(store, job.ticket_id, elsewhere)
    another = whose(store, make_job(store, act, "Lind Okafor Marisol"))
    with pytest.raises(BadInput, match="whose details"):
        merge.merge(store, act, job.ticket_id, another, MergeInput(999, sure=True))


def test_one_who_is_erased_is_erased_with_every_entry_also_from_older_copies(
    store: Store, act: Act, job: Job, twice: Job
):
    with store.write_tx():
        store.change("tickets", job.ticket_id, state="out")
    kept, gone = as_one(store, act, job, twice)
    name = customers.get(store, kept).name
    assert erasure.erase(store, act, kept, name).searched is not None
    noted = erased_list.noted(Path(store.path.parent))
    assert {line.customer_id for line in noted} == {kept, gone}
    assert store.value("SELECT before FROM merges") == "{}"
    assert "Lind" not in store.path.read_bytes().decode("latin-1")


def test_who_wanted_no_e_mails_under_the_other_entry_still_gets_none(
    store: Store, act: Act, job: Job, twice: Job
):
    with store.write_tx():
        mails.stop(store, whose(store, twice), act.at)
    kept, _ = as_one(store, act, job, twice)
    assert mails.is_stopped(store, kept)
