"""One price line as it is offered or agreed."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OfferLine:
    """kind: flat, round, job or reduction. item_ids: of what the work is on.

    work_id: of a job that was asked for before, 0 for none. timing: of a job to be kept with the
    line, "" for none; work: what that is called; days: it takes. answer: why the shop does not do
    it; it is kept as asked for, without a price.
    """

    what: str
    kind: str
    amount_minor: int
    item_id: int | None = None
    taxable: int = 1
    item_ids: tuple[int, ...] = ()
    work_id: int = 0
    timing: str = ""
    work: str = ""
    days: int = 0
    answer: str = ""
