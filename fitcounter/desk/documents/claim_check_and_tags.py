"""The papers of a ticket, filled from the stored rows: tags, claim check, what was agreed.

Records here, ink in papers.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from babel.dates import format_skeleton

from fitcounter.desk.common import money
from fitcounter.desk.common.link_token import link_of, typed_address
from fitcounter.desk.common.seen_at_intake import say as what_was_seen
from fitcounter.desk.common.translation import Speech, marked, say, speech, speech_at, spoken
from fitcounter.desk.customer import phrases
from fitcounter.desk.documents import paper_sizes
from fitcounter.desk.plan import ready_day
from fitcounter.desk.quote import agreed_price
from fitcounter.desk.quote import consent as sentences
from fitcounter.desk.quote.agreed_price import AgreedPrice
from fitcounter.desk.quote.signature import signature
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.fit.tagcode import tag_address
from fitcounter.papers import records as paper
from fitcounter.store import (
    bills,
    contacts,
    customers,
    findings,
    items,
    staff,
    tags,
    tickets,
    works,
)
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import Consent, Item, PriceLine, Ticket

if TYPE_CHECKING:
    from fitcounter.papers.pdf import Press as Press

# How the customer agreed to a changed price, as the new copy of the agreement says it.
AGREED_BY = {
    "signed": marked("You agreed at our counter."),
    "phone": marked("You agreed by phone."),
    "text": marked("You agreed by text."),
    "within": marked("It is within what you agreed to."),
    "lower": marked("It is lower than before."),
}


def ready() -> str:
    """'' when PDFs can be made here, otherwise the sentence that says what is missing."""
    from fitcounter.papers import pdf as papers_pdf

    return papers_pdf.ready() or ""


def press(style: str) -> Press:
    """What makes papers here: PDFs, or pages for the browser's own printing where they cannot be
    made. style: their style sheet.
    """
    from fitcounter.papers.pdf import page_press, print_pdf

    missing = ready()
    return page_press(style, missing) if missing else print_pdf


def tags_pdf(sheet: paper.TagSheet) -> bytes:
    """Raises Unavailable."""
    from fitcounter.papers import tag

    return tag.tags(sheet, spoken().say, spoken().locale)


def claim_paper(check: paper.ClaimCheck, made_by: Press) -> bytes:
    """The claim check in the customer's language."""
    from fitcounter.papers import claim_check as claim

    return claim.claim_check(check, speech(check.language).say, made_by)


def consent_paper(record: paper.ConsentForm, made_by: Press) -> bytes:
    """What was agreed, in the customer's language."""
    from fitcounter.papers import claim_check as claim

    return claim.consent(record, speech(record.language).say, made_by)


def tag_sheet(
    store: Store, shop: Shop, ticket_id: int, base_url: str, size: str = "label"
) -> paper.TagSheet:
    """A label for each item.

    size: label, a4 or letter. Raises NotFound when nothing on the ticket has a tag yet.
    """
    ticket = tickets.get(store, ticket_id)
    labels = [
        label
        for item in items.of_ticket(store, ticket_id)
        if (label := _label(store, shop, ticket, item, base_url)) is not None
    ]
    if not labels:
        raise NotFound(say("Nothing on this ticket has a tag yet. Tags are made on agreement."))
    kept: paper.Paper = "a4" if size == "a4" else "letter" if size == "letter" else "label"
    return paper.TagSheet(head(shop), tuple(labels), kept)


def claim_check(
    store: Store, shop: Shop, ticket_id: int, base_url: str, data_dir: Path, now: datetime
) -> paper.ClaimCheck:
    """What the customer takes home on the first day, with the ready day as it stands at `now`.

    Raises NotFound.
    """
    ticket = tickets.get(store, ticket_id)
    when = ready_day.of_ticket(store, shop, ticket, shop.today(now))
    customer = customers.get(store, ticket.customer_id)
    words = speech_at(shop, customer.language)
    lines, paid = bills.lines(store, ticket_id), bills.payments(store, ticket_id)
    sums = money.sums(ticket, lines, paid)
    consents = tickets.consents(store, ticket_id)
    charges = charges_of(ticket, lines, sums.tax_minor, shop, words)
    return paper.ClaimCheck(
        phrases.head(shop, words),
        str(ticket.number),
        customer.name,
        _day(ticket.opened_at, shop),
        phrases.item_lines(
            items.of_ticket(store, ticket_id), words, works.lines_of_ticket(store, ticket_id)
        ),
        charges,
        _say(sums.total_minor, ticket, shop) if lines else "",
        _say(-sums.paid_minor, ticket, shop) if paid else "",
        _say(max(sums.due_minor, 0), ticket, shop) if lines else "",
        _ceiling(agreed_price.standing(store, shop, ticket), ticket, shop, words),
        when.day,
        tax=tax_included(ticket, sums.tax_minor, shop, words) if lines else "",
        credit=_say(-sums.due_minor, ticket, shop) if sums.due_minor < 0 else "",
        taken_by=_initials(store, consents[-1].staff_id if consents else None),
        link=link_of(store, ticket, base_url, data_dir),
        typed=typed_address(store, ticket, base_url, data_dir),
        boots=_boots(items.of_ticket(store, ticket_id)),
        language=words.locale,
        paper=paper_sizes.of_slips(shop),
    )


def consent_record(
    store: Store, shop: Shop, ticket_id: int, data_dir: Path, copy: int | None = None
) -> paper.ConsentForm:
    """What was agreed, as it was signed, with the price of that day. copy: the id of an earlier
    agreement, None for the last. Raises NotFound.
    """
    ticket = tickets.get(store, ticket_id)
    signed = [one for one in tickets.consents(store, ticket_id) if copy in (None, one.id)]
    if not signed:
        raise NotFound(say("Nothing is agreed on this ticket yet."))
    last, held = signed[-1], items.of_ticket(store, ticket_id)
    customer = customers.get(store, ticket.customer_id)
    words = speech_at(shop, customer.language)
    price = agreed_price.of_consent(last) or agreed_price.standing(store, shop, ticket)
    first = contacts.first_promise(store, ticket)
    found = [(item, one) for item in held for one in findings.of_item(store, item.id)]
    own = set(sentences.noted(held, [one for _, one in found]))
    said = [one for one in sentences.kept(last.sentences) if one not in own]
    return paper.ConsentForm(
        phrases.head(shop, words),
        str(ticket.number),
        customer.name,
        last.text_version,
        phrases.item_lines(held, words, works.lines_of_ticket(store, ticket_id)),
        tuple(
            paper.FindingLine(_side(item.side), one.place, words.known(what_was_seen(one.word)))
            for item, one in found
            if one.moment == "before"
        ),
        tuple(words.known(one) for one in said),
        _say(price.total_minor, ticket, shop),
        _ceiling(price, ticket, shop, words),
        date.fromisoformat(first) if first else None,
        last.name,
        last.initials,
        signature(data_dir, last.signature_file),
        _day(last.agreed_at, shop),
        as_signed=() if words.code == "en" else tuple(said),
        change=_change(last, words),
        charges=charges_of(ticket, price.lines, price.tax_minor, shop, words) if last.how else (),
        boots=_boots(held),
        looked=sentences.looked_at(store, held),
        language=words.locale,
        paper=paper_sizes.of_pages(shop),
    )


def _change(last: Consent, words: Speech) -> str:
    """Why the price was changed and how the customer agreed; "" for a first agreement."""
    if not last.how:
        return ""
    why = words.say("The price was changed: {why}.", why=last.why.rstrip("."))
    return f"{why} {words.say(AGREED_BY[last.how])}"


def charges_of(
    ticket: Ticket, lines: Sequence[PriceLine], tax_minor: int, shop: Shop, words: Speech
) -> tuple[paper.Charge, ...]:
    """Each price line in the language of `words`, and the tax where it comes on top."""
    charges = [
        paper.Charge(
            phrases.line_of(one, words), _say(one.quantity * one.amount_minor, ticket, shop)
        )
        for one in lines
    ]
    if tax_minor and not ticket.tax_included:
        charges.append(paper.Charge(words.say("Tax"), _say(tax_minor, ticket, shop)))
    return tuple(charges)


def tax_included(ticket: Ticket, tax_minor: int, shop: Shop, words: Speech) -> str:
    """The tax that a total includes; "" where it stands among the charges, or is none."""
    return _say(tax_minor, ticket, shop) if ticket.tax_included and tax_minor else ""


def head(shop: Shop) -> paper.Letterhead:
    """The head of the shop's own papers."""
    return phrases.head(shop, speech_at(shop, spoken().code))


def _label(
    store: Store, shop: Shop, ticket: Ticket, item: Item, base_url: str
) -> paper.TagLabel | None:
    tag = tags.of_item(store, item.id)
    if tag is None:
        return None
    promised = ready_day.promised_day(item, ticket)
    lines = [(say("day"), _short_day(promised))] if promised else []
    if item.jobs:
        lines.insert(0, (say("job"), item.jobs))
    return paper.TagLabel(
        str(ticket.number),
        tag.code,
        tag_address(base_url, tag.code),
        _side(item.side),
        "item",
        item.description or item.kind,
        tuple(lines),
        customers.get(store, ticket.customer_id).name if shop.name_on_tag else "",
    )


def _boots(held: Sequence[Item]) -> bool:
    return any(one.kind == "boot" for one in held)


def _short_day(day: date) -> str:
    return format_skeleton("MMMd", day, locale=spoken().locale)


def _side(side: str | None) -> paper.Side:
    return "left" if side == "left" else "right" if side == "right" else ""


def _ceiling(price: AgreedPrice, ticket: Ticket, shop: Shop, words: Speech) -> str:
    """The sum that is not passed without asking, with the tax on what may come."""
    most = _say(price.ceiling_minor, ticket, shop)
    return (
        words.say("We will ask you before it costs more than {amount}.", amount=most)
        if price.further
        else ""
    )


def _initials(store: Store, staff_id: int | None) -> str:
    person = staff.get(store, staff_id) if staff_id else None
    return person.initials if person else ""


def _day(at: str, shop: Shop) -> date:
    return shop.local(utc_time(at)).date()


def _say(minor: int, ticket: Ticket, shop: Shop) -> str:
    return money.say(minor, ticket.currency, speech_at(shop))
