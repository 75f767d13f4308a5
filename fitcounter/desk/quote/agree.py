"""Agreeing: the price lines, what may happen and a name under it, the deposit, the link, a tag on
every item. One transaction.

Declining too: what is declined is tagged and given back like everything else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

from fitcounter.desk.common import files, shop_days
from fitcounter.desk.common.link_token import LINK_DAYS, link_hashes, link_key
from fitcounter.desk.common.state_changes import StepInput, write_step
from fitcounter.desk.common.translation import marked, say, spoken
from fitcounter.desk.common.usual_work import USUAL
from fitcounter.desk.plan import kept_for_boots_at_home
from fitcounter.desk.quote import agreed_price, consent, work_lines
from fitcounter.desk.quote.agreed_price import AgreedPrice
from fitcounter.desk.quote.offer import Offer, further_minor, make_offer
from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.desk.quote.panel_price import PANEL
from fitcounter.desk.quote.signature import new_path, read_signature
from fitcounter.desk.shop import Shop
from fitcounter.desk.tags.attach import tag_items
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.fit.assessment.answer_json import side_json
from fitcounter.store import bills, fits, items, outcomes, tickets, works
from fitcounter.store.bills import NewLine
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item, Ticket

TWO_PEOPLE = marked(
    "Someone changed this ticket while you were typing. Check it before you save yours."
)


@dataclass(frozen=True, slots=True)
class Agreed:
    """What was agreed. lines: as they stand on the page. name: typed by the customer or for them;
    initials: of who read it with them.

    signature: a picture as the page sends it. tags: item id to the code of a tag that hangs ready.
    promise: the printed day. deposit_method: how it was paid. rush: it goes first, None as the
    ticket has it.
    """

    lines: tuple[OfferLine, ...]
    name: str
    promise: date | None = None
    deposit_minor: int = 0
    initials: str = ""
    signature: str = ""
    tags: Mapping[int, str] = field(default_factory=dict)
    version: int | None = None
    deposit_method: str = ""
    rush: bool | None = None


def agree(
    store: Store,
    act: Act,
    shop: Shop,
    ticket_id: int,
    agreed: Agreed,
    data_dir: Path,
    offered: Offer | None = None,
) -> Written:
    """Keeps it all, and moves every item at the counter to the bench's queue.

    offered: what there was to agree a moment ago, so that it is not reckoned again. Raises BadInput
    (field: name, signature, promise, tag_<item id>), Conflict, OutOfOrder when nothing waits to be
    agreed.
    """
    if not agreed.name.strip():
        raise BadInput(say("Type the customer’s name. It stands for their yes."), field="name")
    _open_that_day(store, shop, agreed.promise)
    picture, path = read_signature(agreed.signature), new_path(data_dir, ticket_id)
    offer = offered or make_offer(store, shop, ticket_id, shop.local(act.at).date())

    def write() -> Written:
        _still_open(store, ticket_id, agreed, offer)
        _bill(store, act, offer, agreed)
        if picture:
            files.put(path, picture)
        opening = TicketOpening(
            items=offer.waiting,
            codes=agreed.tags,
            version=agreed.version,
            days={
                "hope_day": _iso(offer.hope),
                "promise_day": _iso(agreed.promise),
                "rush": offer.ticket.rush if agreed.rush is None else int(agreed.rush),
            },
        )
        open_for_asking(store, act, tickets.get(store, ticket_id), opening, data_dir)
        _keep_predictions(store, act, shop, offer, agreed.promise)
        price = agreed_price.anew(store, shop, tickets.get(store, ticket_id))
        _keep_consent(store, act, offer, agreed, (path.name if picture else "", price))
        for item in offer.waiting:
            step = StepInput(act.at, columns=_paneled(offer, item))
            write_step(store, act, items.get(store, item.id), "agree", step)
        kept_for_boots_at_home.take_over(store, ticket_id)
        detail = {
            "lines": len(agreed.lines),
            "deposit_minor": agreed.deposit_minor,
            "items": len(offer.waiting),
        }
        return Written(ticket_id, detail=detail)

    with files.only_with(path):
        return store.once(act, "agreed", write)


def _open_that_day(store: Store, shop: Shop, promise: date | None) -> None:
    """Raises BadInput where the shop is closed on the day that is promised, with the next open
    day.
    """
    days = shop_days.of_shop(store, shop)
    if promise is not None and not days.is_open(promise):
        words = spoken()
        raise BadInput(
            say(
                "The shop is closed on {day}. The next open day is {next}.",
                day=words.day(promise),
                next=words.day(days.next_open(promise)),
            ),
            typed=promise.isoformat(),
            field="promise",
        )


def _still_open(store: Store, ticket_id: int, agreed: Agreed, offered: Offer) -> None:
    """Raises Conflict where the ticket, its items or its readings changed since they were looked
    at, OutOfOrder where nothing waits.
    """
    if agreed.version not in (None, tickets.get(store, ticket_id).version):
        raise Conflict(say(TWO_PEOPLE))
    if not offered.waiting:
        raise OutOfOrder(say("Everything on this ticket is agreed."))
    same_items = all(items.get(store, item.id) == item for item in offered.waiting)
    same_fits = all(fits.get(store, given.fit.id) == given.fit for given in offered.answers)
    if not same_items or not same_fits:
        raise Conflict(say(TWO_PEOPLE))


def _bill(store: Store, act: Act, offered: Offer, agreed: Agreed) -> None:
    """The price lines with the work they are for, what is not done here, and the deposit."""
    ticket_id = offered.ticket.id
    for line in agreed.lines:
        if line.answer:
            work_lines.keep_asked(store, act, ticket_id, line)
            continue
        what, kind, amount = line.what, line.kind, line.amount_minor
        new = NewLine(what, kind, amount, item_id=line.item_id, taxable=line.taxable)
        line_id = bills.add_line(store, ticket_id, new)
        work_lines.keep(store, act, ticket_id, line, line_id)
    work_lines.leave_out(store, act, offered.lines, {line.work_id for line in agreed.lines})
    if agreed.deposit_minor:
        how = {"method": agreed.deposit_method}
        bills.pay(store, act, ticket_id, "deposit", agreed.deposit_minor, **how)


def _keep_consent(
    store: Store, act: Act, offered: Offer, agreed: Agreed, signed: tuple[str, AgreedPrice]
) -> None:
    """The sentences and the price that the customer agreed to, with the name under them. signed:
    the file with the signature, the price.
    """
    signature_file, price = signed
    tickets.add_consent(
        store,
        act,
        offered.ticket.id,
        consent.TEXT_VERSION,
        [*consent.noted(offered.waiting, offered.seen), *offered.sentences],
        name=agreed.name.strip(),
        initials=agreed.initials,
        signature_file=signature_file,
        price=agreed_price.as_text(price),
    )


def decline(store: Store, act: Act, fit_id: int, why: str, data_dir: Path) -> Written:
    """The boots go back undone: still tagged, still on the ticket until they are handed over.

    why: kept as their note.
    """

    def write() -> Written:
        fit = fits.get(store, fit_id)
        boots = still_at_the_counter(fits.boots(store, fit_id))
        ticket = tickets.get(store, fit.ticket_id)
        open_for_asking(store, act, ticket, TicketOpening(items=boots), data_dir)
        for boot in boots:
            work_lines.give_up(store, act, works.open_of_item(store, boot.id))
            write_step(
                store,
                act,
                items.get(store, boot.id),
                "decline",
                StepInput(act.at, columns={"note": why} if why else {}),
            )
        return Written(fit.ticket_id, detail={"fit": fit_id, "items": len(boots)})

    return store.once(act, "declined", write)


def still_at_the_counter(boots: Sequence[Item]) -> list[Item]:
    """Those that nothing is agreed about yet. Raises OutOfOrder where that is none."""
    waiting = [boot for boot in boots if boot.state in ("counter", "expected")]
    if not waiting:
        raise OutOfOrder(
            say("These boots are agreed already. Open the boot’s page to give them back.")
        )
    return waiting


@dataclass(frozen=True, slots=True, kw_only=True)
class TicketOpening:
    """What a ticket gets once it can be asked for. items: to be tagged; codes: item id to the code
    of a tag that hangs ready.

    version: of the ticket as its page was shown, None for any; days: columns of the told days.
    """

    items: Sequence[Item]
    codes: Mapping[int, str] = field(default_factory=dict)
    version: int | None = None
    days: Mapping[str, object] = field(default_factory=dict)


def open_for_asking(
    store: Store, act: Act, ticket: Ticket, opening: TicketOpening, data_dir: Path
) -> None:
    """Tags the items, gives the ticket its spoken number, days and link, inside a write: from now
    on it can be asked for.
    """
    number = tag_items(store, act, ticket, opening.items, opening.codes)
    series = max(1, tickets.links_so_far(store, ticket.id))
    store.change(
        "tickets",
        ticket.id,
        ticket.version if opening.version is None else opening.version,
        number=number,
        link_until=utc_text(act.at + timedelta(days=LINK_DAYS)),
        **link_hashes(link_key(data_dir), ticket, series),
        **opening.days,
    )


def _keep_predictions(
    store: Store, act: Act, shop: Shop, offered: Offer, promise: date | None
) -> None:
    """What was answered, as JSON, kept to be compared with what it takes; with what further rounds
    of the pair may cost, for the papers.
    """
    for given in offered.answers:
        for boot, side in given.measured if given.tier != "safe" else ():
            kept = {
                **side_json(side.verdict, side.slips, side.second_look),
                "further_minor": further_minor(shop, given),
            }
            outcomes.add_prediction(store, act, boot.id, kept, _iso(given.days.hope), _iso(promise))


def _paneled(offered: Offer, item: Item) -> dict[str, object]:
    """A boot that gets leather or elastic let in is other work from now on."""
    kinds = [given.instead for given in offered.answers if given.fit.id == item.fit_id]
    if not any(kinds):
        return {}
    return {"work": "other", "jobs": PANEL if kinds[0] == PANEL else USUAL[kinds[0]].what}


def _iso(day: date | None) -> str | None:
    return day.isoformat() if day else None
