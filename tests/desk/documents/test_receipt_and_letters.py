"""What the papers of odd jobs say: partly fetched, at home past midnight in UTC, two pairs, a tax
on top, what is no leather.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from support.bench_cast import Pair, pair, tree
from support.cast import Clock
from support.paper_text import text_of
from support.ticket_rows import Job

from fitcounter.desk.assessment import standing
from fitcounter.desk.bench import put_on_turn_up_take_off
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.catch_up import catch_up
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.documents import bench_card as documents_bench
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.documents import evening_sheet
from fitcounter.desk.documents import receipt_and_letters as documents_customer
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.plan.plan_inputs import _goes
from fitcounter.desk.quote import consent
from fitcounter.desk.rounds.rested_reading import RestedReading, measure_again
from fitcounter.desk.shop import Shop
from fitcounter.papers.pdf import print_pdf
from fitcounter.store import bills, items, outcomes, tickets
from fitcounter.store.bills import NewLine
from fitcounter.store.database import Act, Store

EVENING = datetime(
    2026, 3, 18, 1, 30, tzinfo=UTC
)  # half past nine in the evening of the 17th in New York


def notice(store: Store, choices: Shop, ticket_id: int, now: datetime) -> str:
    return text_of(documents_customer.notice(store, choices, ticket_id, now, print_pdf))


def test_a_letter_counts_from_the_shops_own_day(store: Store, choices: Shop, job: Job) -> None:
    """Shelved at half past nine in the evening: ready since that day, not since the next one, which
    it is in Greenwich.
    """
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, Act(EVENING, 1), item_id, "shelved", StepInput(EVENING))
    assert "ready since March 17, 2026" in notice(store, choices, job.ticket_id, EVENING)


def test_a_letter_asks_for_nothing_that_she_has_fetched(
    store: Store, choices: Shop, job: Job, clock: Clock
) -> None:
    """The bag went home weeks later than the boots were ready: the letter is about the boots, and
    since they were ready.
    """
    for item_id in (job.left, job.right, job.bag):
        catch_up(store, Act(clock.now, 1), item_id, "shelved", StepInput(clock.now))
    later = clock.on(days=20)
    pickup.hand_over(
        store,
        Act(later, 1),
        job.ticket_id,
        pickup.Handover(frozenset((job.bag,)), later, "Marisol", part=True),
        choices,
    )
    said = notice(store, choices, job.ticket_id, clock.on(days=1))
    assert "ready since March 17, 2026" in said
    assert "bag" not in said
    assert "2 in all" in said


def test_what_is_next_is_not_said_of_what_is_gone(
    store: Store, choices: Shop, job: Job, clock: Clock
) -> None:
    """The bag was fetched before the boots: nobody has to do anything with it any more."""
    catch_up(store, Act(clock.now, 1), job.bag, "shelved", StepInput(clock.now))
    handed = pickup.Handover(frozenset((job.bag,)), clock.now, "Marisol", part=True)
    pickup.hand_over(store, Act(clock.now, 1), job.ticket_id, handed, choices)
    (row,) = evening_sheet.evening(store, choices, clock.now).jobs
    assert row.next_step == "Save as prepared"


def two_pairs(store: Store, act: Act) -> Pair:
    """Two pairs on one ticket, each likely to want one go more than the price has."""
    first, second = pair(store, act), pair(store, act, number=42)
    with store.write_tx():
        for one in (second.left, second.right):
            store.change("items", one, ticket_id=first.ticket_id)
        store.change("fits", second.fit_id, ticket_id=first.ticket_id)
        bills.add_line(
            store, first.ticket_id, NewLine("Stretching the pair, up to 2 goes", "flat", 18000)
        )
        for one in (first.left, first.right, second.left, second.right):
            outcomes.add_prediction(
                store, act, one, {"tier": "stages", "likely": 2, "eight_in_ten": 3}, None, None
            )
    return first


@pytest.mark.parametrize(("tax", "most"), [(0, "$240.00"), (1000, "$264.00")])
def test_the_most_it_may_cost_counts_every_pair_and_the_tax_on_top(
    store: Store, choices: Shop, act: Act, tmp_path: Path, tax: int, most: str
) -> None:
    """$180 and a further go of $30 for each of two pairs, with 10 % on all of it where there is a
    tax.
    """
    made = two_pairs(store, act)
    with store.write_tx():
        store.change("tickets", made.ticket_id, tax_basis_points=tax)
    check = documents_ticket.claim_check(
        store, choices, made.ticket_id, "https://boots.example", tmp_path, act.at
    )
    assert check.ceiling == f"We will ask you before it costs more than {most}."


def test_a_bag_alone_is_agreed_as_a_thing(
    store: Store, choices: Shop, act: Act, job: Job, tmp_path: Path
) -> None:
    """No boots among the items: what she signs, her claim check and the paper of it speak of
    things.
    """
    with store.write_tx():
        store.db.execute("DELETE FROM items WHERE id IN (?, ?)", (job.left, job.right))
    held = items.of_ticket(store, job.ticket_id)
    said = consent.sentences(held, [])
    assert said == ["You can have your items back at any time."]
    with store.write_tx():
        tickets.add_consent(
            store, act, job.ticket_id, consent.TEXT_VERSION, said, name="Marisol", initials="MO"
        )
    check = documents_ticket.claim_check(
        store, choices, job.ticket_id, "https://boots.example", tmp_path, act.at
    )
    assert "boots" not in text_of(documents_ticket.claim_paper(check, print_pdf)).replace(
        "boots.example", ""
    )
    assert "boots" not in text_of(
        documents_ticket.consent_paper(
            documents_ticket.consent_record(store, choices, job.ticket_id, tmp_path), print_pdf
        )
    )


def test_what_is_no_leather_has_its_bench_card_too(store: Store, choices: Shop, act: Act) -> None:
    """Nothing is reckoned for it: the card prints, nothing may open, and plan and figures go on
    without it.
    """
    made = pair(store, act, state="to-decide")
    with store.write_tx():
        for one in (made.left, made.right):
            store.change("items", one, material="synthetic")
    card = documents_bench.bench_card(store, choices, made.ticket_id, "", choices.today(act.at))
    assert "one round may open the boot at most 0 in" in text_of(documents_bench.card_pdf(card))
    item = items.get(store, made.left)
    found = standing.standing(store, item)
    assert found is not None
    assert "one round may open 0 in" in standing.over_limit(found, None, 3.0, "in")
    assert _goes(found, item) == (None, None)


def test_a_round_on_what_is_no_leather_says_only_what_it_gained(
    store: Store, choices: Shop, clock: Clock
) -> None:
    """It was put on all the same: the page of the boot says the gain, and reckons no further round
    from it.
    """
    tree(store, "4")
    made = pair(store, Act(clock.now, 1))
    with store.write_tx():
        store.change("items", made.left, material="synthetic")
    on = PutOn("4", before="14 3/8", on_tree="14 5/8", override_why="master-looked")
    put_on_turn_up_take_off.put_on(
        store, Act(clock.now, 1), choices, made.left, StepInput(clock.now), on
    )
    put_on_turn_up_take_off.take_off(
        store, Act(clock.on(days=7), 1), made.left, StepInput(clock.now)
    )
    measure_again(
        store,
        Act(clock.now + timedelta(hours=25), 1),
        choices,
        made.left,
        StepInput(clock.on(hours=25)),
        RestedReading("14 7/16"),
    )
    found = standing.standing(store, items.get(store, made.left))
    assert found is not None
    assert standing.kept_sentence(found, "in").startswith("Gave 1/16 in; no estimate")
