"""What happens to a ticket after its things went out: a comeback, and the end of the guarantee."""

from __future__ import annotations

from datetime import date, datetime

from fitcounter.store.database import Store, utc_text
from fitcounter.store.records import Ticket


def guarantee_over(store: Store, day: date) -> list[Ticket]:
    """Handed over, and covered until that day or an earlier one, or not covered at all."""
    sql = (
        "SELECT * FROM tickets WHERE state = 'out' AND coalesce(guarantee_end,"
        " substr(handed_over_at, 1, 10)) <= ? ORDER BY id"
    )
    return store.all(Ticket, sql, day.isoformat())


def reopen(store: Store, ticket: Ticket, number: int) -> None:
    """Opens a ticket again under a number that is free now, inside a write."""
    if ticket.state != "open":
        store.change("tickets", ticket.id, ticket.version, state="open", number=number)


def number_is_free(store: Store, number: int) -> bool:
    return store.value("SELECT 1 FROM tickets WHERE number = ? AND state = 'open'", number) is None


def add_comeback(
    store: Store, ticket_id: int, item_id: int, at: datetime, **columns: object
) -> int:
    """at: aware datetime.

    columns: said, answer, boot_change_um, leg_change_um, under_guarantee. Inside a write.
    """
    return store.insert(
        "comebacks", ticket_id=ticket_id, item_id=item_id, at=utc_text(at), **columns
    )
