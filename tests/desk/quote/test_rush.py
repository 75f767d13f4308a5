"""A rush job: with a price line of its own, first in the queue, until it is taken off."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from support.measured_pair import measured_pair

from fitcounter.desk import shop
from fitcounter.desk.bench import item_page
from fitcounter.desk.bench.board import board
from fitcounter.desk.documents import evening_sheet
from fitcounter.desk.front_desk import ticket_rows
from fitcounter.desk.quote import agree, rush
from fitcounter.desk.quote.agree import Agreed
from fitcounter.desk.quote.offer import OfferLine, make_offer
from fitcounter.desk.tickets import price_change
from fitcounter.desk.tickets.price_change import LineInput, PriceChange
from fitcounter.store import bills, items, tickets
from fitcounter.store.database import Act, Store

TODAY = date(2026, 3, 17)


def agreed(store: Store, act: Act, folder: Path, *, is_rush: bool) -> int:
    here = shop.read(store)
    ticket_id, _ = measured_pair(store, act)
    lines = make_offer(store, here, ticket_id, TODAY).lines
    if is_rush:
        lines = (*lines, OfferLine(rush.LINE, "job", here.rush_minor))
    said = Agreed(lines, "Marisol", rush=is_rush)
    agree.agree(store, act, here, ticket_id, said, folder)
    return ticket_id


def test_a_rush_that_is_agreed_is_priced_and_goes_first(store: Store, act: Act, tmp_path: Path):
    usual = agreed(store, act, tmp_path, is_rush=False)
    first = agreed(store, act, tmp_path, is_rush=True)
    assert [one.what for one in bills.lines(store, first)][-1] == "Rush job"
    assert not make_offer(store, shop.read(store), first, TODAY).charges_rush
    rows = {one.ticket.id: one for one in ticket_rows.open_rows(store, shop.read(store), TODAY)}
    assert (rows[first].rush, rows[usual].rush) == (True, False)
    queue = board(store, shop.read(store), act.at).queue
    assert [one.row.ticket_id for one in queue] == [first, first, usual, usual]


def test_a_rush_job_says_so_on_its_item_and_the_evening_sheet_until_it_is_done(
    store: Store, act: Act, tmp_path: Path
):
    ticket_id = agreed(store, act, tmp_path, is_rush=True)
    here, held = shop.read(store), items.of_ticket(store, ticket_id)
    assert all(item_page.look(store, here, one.id).rush for one in held)
    assert [job.rush for job in evening_sheet.evening(store, here, act.at).jobs] == [True]
    with store.write_tx():
        store.change("items", held[0].id, state="shelved")
    assert [item_page.look(store, here, one.id).rush for one in held] == [False, True]
    with store.write_tx():
        store.change("items", held[1].id, state="shelved")
    assert [job.rush for job in evening_sheet.evening(store, here, act.at).jobs] == [False]


def test_a_rush_taken_off_takes_its_price_line_with_it(store: Store, act: Act, tmp_path: Path):
    ticket_id = agreed(store, act, tmp_path, is_rush=True)
    before = bills.lines(store, ticket_id)
    lines = tuple(LineInput(one.id, one.what, one.amount_minor) for one in before)
    here = shop.read(store)
    price_change.change(
        store, act, here, ticket_id, PriceChange(lines=lines, why="", rush=False), tmp_path
    )
    assert bills.lines(store, ticket_id) == before[:-1]
    assert tickets.get(store, ticket_id).rush == 0
    assert tickets.consents(store, ticket_id)[-1].why == "No rush any more"
