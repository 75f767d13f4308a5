"""Work on boots as price lines: what was asked for before the price is agreed, and what is kept of
it then.
"""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.fit.work_timing import LineState
from fitcounter.store import works
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Item
from fitcounter.store.works import WorkLine


def line_words(work: str, on: Sequence[Item]) -> str:
    """ "Heel tips, both boots": as its price line is kept, in our English where it is ours."""
    sides = [one.side for one in on if one.side]
    if len(sides) == 2:
        return f"{work}, both boots"
    if len(on) == 1 and sides:
        return f"{work}, {sides[0]} boot"
    return f"{work}, {on[0].description}" if len(on) == 1 and on[0].description else work


def asked_lines(store: Store, ticket_id: int, waiting: Sequence[Item]) -> list[OfferLine]:
    """A price line for each job on what waits to be agreed."""
    held = {one.id: one for one in waiting}
    lines = works.lines_of_ticket(store, ticket_id)
    found = []
    for work in works.of_ticket(store, ticket_id):
        on = [
            held[one.item_id]
            for one in lines
            if one.work_id == work.id and one.is_open and one.item_id in held
        ]
        if work.line_id is None and on:
            what = line_words(work.what, on)
            ids = tuple(one.id for one in on)
            found.append(
                OfferLine(
                    what, "job", work.amount_minor, on[0].id, work.taxable, ids, work_id=work.id
                )
            )
    return found


def keep(store: Store, act: Act, ticket_id: int, line: OfferLine, line_id: int) -> None:
    """The work that a price line was agreed for, inside a write. line_id: as it is stored."""
    if line.work_id:
        works.bill(store, line.work_id, line_id)
    elif line.timing:
        work_id = works.add(
            store,
            act,
            line.item_ids,
            ticket_id=ticket_id,
            what=line.work,
            timing=line.timing,
            days=line.days,
            amount_minor=line.amount_minor,
        )
        works.bill(store, work_id, line_id)


def keep_asked(store: Store, act: Act, ticket_id: int, line: OfferLine) -> None:
    """What the shop does not do, with its answer and on no item, inside a write."""
    row = {"ticket_id": ticket_id, "what": line.work, "timing": line.timing}
    works.add(store, act, [], **row, answer=line.answer)


def leave_out(store: Store, act: Act, offered: Sequence[OfferLine], agreed: set[int]) -> None:
    """What was asked for and is not wanted after all, inside a write. agreed: ids of works."""
    for line in offered:
        if line.work_id and line.work_id not in agreed:
            lines = works.lines_of_ticket(store, works.get(store, line.work_id).ticket_id)
            give_up(store, act, [one for one in lines if one.work_id == line.work_id])


def give_up(store: Store, act: Act, lines: Sequence[WorkLine]) -> None:
    """These are not to be done after all, inside a write."""
    for one in lines:
        works.set_state(store, act, one.id, LineState.NOT_DONE, utc_text(act.at), one.note)
