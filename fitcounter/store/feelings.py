"""How each boot felt after a wear, as the customer tapped it."""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.store.database import Act, Store, utc_text


class Feeling(NamedTuple):
    """side: left or right. feel: good, tight or sore. n: the step, 0 for an extra wear."""

    n: int
    local_day: str
    side: str
    feel: str


def of_ticket(store: Store, ticket_id: int) -> list[Feeling]:
    """In order of days, left before right."""
    sql = "SELECT n, local_day, side, feel FROM wear_feelings WHERE ticket_id = ?"
    return store.all(Feeling, f"{sql} ORDER BY local_day, side", ticket_id)


def put(store: Store, act: Act, ticket_id: int, felt: Feeling) -> None:
    """Adds or changes how one boot felt on a day, inside a write."""
    store.db.execute(
        "INSERT INTO wear_feelings (ticket_id, n, local_day, side, feel, at) VALUES (?, ?, ?, ?, ?,"
        " ?) ON CONFLICT (ticket_id, local_day, side) DO UPDATE SET feel = excluded.feel, at ="
        " excluded.at",
        [ticket_id, felt.n, felt.local_day, felt.side, felt.feel, utc_text(act.at)],
    )
