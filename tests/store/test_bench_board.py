"""The bench's rows: every open item with its ticket and customer."""

from __future__ import annotations

from support.bench_cast import pair
from support.cast import Clock

from fitcounter.store import bench_board
from fitcounter.store.database import Act, Store


def test_customers_have_what_is_on_their_open_tickets_and_nobody_has_nothing(
    store: Store, clock: Clock
) -> None:
    first = pair(store, Act(clock.now))
    second = pair(store, Act(clock.now), 42, name="Tobias Renwick")
    whose = {
        row.number: int(store.value("SELECT customer_id FROM tickets WHERE id = ?", row.ticket_id))
        for row in bench_board.open_items(store)
    }
    assert bench_board.of_customers(store, ()) == []
    found = bench_board.of_customers(store, {whose[41], whose[42]})
    assert [row.id for row in found] == [first.left, first.right, second.left, second.right]
    with store.write_tx():
        store.change("tickets", second.ticket_id, state="out")
    assert bench_board.of_customers(store, {whose[42]}) == []
