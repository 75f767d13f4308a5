"""A measured pair and a bag before they are agreed: the offer, a yes to it, and a signature."""

from __future__ import annotations

import base64
import struct
import zlib
from datetime import date

from support.measured_pair import measured_pair

from fitcounter.desk import shop
from fitcounter.desk.intake.job_records import Seen
from fitcounter.desk.quote.agree import Agreed
from fitcounter.desk.quote.offer import Offer, make_offer
from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.store.database import Act, Store

TODAY = date(2026, 3, 17)


def with_limits(store: Store, act: Act) -> shop.Shop:
    """A shop that stretches by the handbook's usual limits."""
    shop.choose(store, act, limits="usual")
    return shop.read(store)


def pair_and_bag(store: Store, act: Act) -> int:
    """The ticket of a measured pair with a worn zipper on the left, and of a bag."""
    ticket, _ = measured_pair(store, act, seen=(Seen("left", "zip-worn", "at the top"),))
    with store.write_tx():
        store.insert(
            "items",
            ticket_id=ticket,
            letter="B",
            kind="bag",
            work="other",
            description="black bag",
            jobs="new handle",
            state="counter",
            since="2026-03-17T14:00:00Z",
        )
    return ticket


def offered(store: Store, here: shop.Shop, ticket_id: int) -> Offer:
    return make_offer(store, here, ticket_id, TODAY)


def yes(offer: Offer, **changes: object) -> Agreed:
    """The offer as it is agreed to, with 45 dollars where a line has no price."""
    lines = tuple(
        OfferLine(one.what, one.kind, one.amount_minor or 4500, one.item_id) for one in offer.lines
    )
    told: dict[str, object] = {
        "lines": lines,
        "name": "Marisol Okafor-Lind",
        "promise": offer.promise,
        "deposit_minor": 3000,
        **changes,
    }
    return Agreed(**told)  # type: ignore[arg-type]


def picture() -> str:
    """The smallest PNG there is, as a page sends it."""

    def part(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    head = part(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0))
    whole = b"\x89PNG\r\n\x1a\n" + head + part(b"IDAT", zlib.compress(b"\0\0")) + part(b"IEND", b"")
    return "data:image/png;base64," + base64.b64encode(whole).decode()
