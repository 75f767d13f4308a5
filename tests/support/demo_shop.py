"""The invented shop with its doors open, for what looks at its pages: browser tests, measurements,
pictures.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from support.cast import Clock
from support.served_shop import open_shop

from fitcounter.desk.common import link_token
from fitcounter.desk.demo import scenario
from fitcounter.store import tickets
from fitcounter.store.database import Store
from fitcounter.store.opening import open_store

OF_TICKET = (
    "SELECT t.id AS id FROM tickets t JOIN customers c ON c.id = t.customer_id WHERE c.name LIKE ?"
    " ORDER BY t.id DESC"
)
OF_FIT = (
    "SELECT f.id AS id FROM fits f JOIN tickets t ON t.id = f.ticket_id JOIN customers c ON c.id ="
    " t.customer_id WHERE c.name LIKE ?"
)
LEFT = (
    "SELECT i.id AS id FROM items i JOIN tickets t ON t.id = i.ticket_id JOIN customers c ON c.id ="
    " t.customer_id WHERE c.name LIKE ? AND side = 'left'"
)


@dataclass
class Invented:
    """The invented shop and the address of its server."""

    data_dir: Path
    address: str
    store: Store

    def ids(self, sql: str, *values: object) -> list[int]:
        return [int(row["id"]) for row in self.store.rows(sql, *values)]

    def her_link(self, ticket_id: int) -> str:
        return "/c/" + link_token.link_token(
            link_token.link_key(self.data_dir), tickets.get(self.store, ticket_id)
        )

    def places(self) -> dict[str, str]:
        """An address for each place of the program, with somebody of the story in it."""
        marisol = self.ids(LEFT, "Marisol%")[0]
        return {
            "Today": "/",
            "New job": "/new",
            "Measure": f"/fits/{self.ids(OF_FIT, 'Marisol%')[0]}/measure",
            "Can it be done?": f"/fits/{self.ids(OF_FIT, 'Marisol%')[0]}/verdict",
            "Item": f"/items/{marisol}",
            "Bench": "/bench",
            "Pickup": f"/pickup/{self.ids(OF_TICKET, 'Rowan%')[0]}",
            "Customer page": self.her_link(self.ids(OF_TICKET, "Wren%")[0]),
            "Book": "/book",
            "Shop": "/shop",
        }


@contextmanager
def open_invented(data_dir: Path, now: datetime) -> Iterator[Invented]:
    """Plays the story up to this moment (aware UTC), at which the shop's clock then stands, and
    opens the doors.
    """
    scenario.load(data_dir, now)
    store = open_store(data_dir / "shop.db")
    with open_shop(data_dir, Clock(now)) as address:
        yield Invented(data_dir, address, store)
    store.close()
