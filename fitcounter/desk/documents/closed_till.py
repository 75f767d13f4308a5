"""A closed till as a paper to keep, on what claim checks are printed on."""

from __future__ import annotations

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import spoken
from fitcounter.desk.documents import paper_sizes
from fitcounter.desk.documents.claim_check_and_tags import head
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import till
from fitcounter.papers import closed_till as papers_till
from fitcounter.papers.bench_records import TillSlip, TillSlipLine
from fitcounter.store.database import Store


def till_pdf(store: Store, shop: Shop, till_id: int) -> bytes:
    """Raises NotFound, Unavailable."""
    words = spoken()
    return papers_till.till_slip(till_slip(store, shop, till_id), words.say, words.locale)


def till_slip(store: Store, shop: Shop, till_id: int) -> TillSlip:
    """The same as a record. Raises NotFound."""
    closed = till.closed(store, till_id)

    def amount(minor: int) -> str:
        return money.say(minor, closed.currency)

    return TillSlip(
        head(shop),
        till.say_moment(closed, shop),
        closed.who,
        amount(closed.float_minor),
        tuple(
            TillSlipLine(
                line.words,
                amount(line.in_minor),
                amount(line.out_minor),
                amount(line.expected_minor),
                amount(line.counted_minor or 0),
                till.difference(line.difference_minor, closed.currency),
            )
            for line in closed.lines
        ),
        till.difference(closed.difference_minor, closed.currency),
        closed.note,
        paper_sizes.of_slips(shop),
    )
