"""The fields of Agree: price lines, her name, the deposit, the printed day, a tag for each
thing.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any, cast

from flask import request
from wtforms import BooleanField, HiddenField

from fitcounter.desk.common import money
from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.quote.agree import Agreed
from fitcounter.desk.quote.offer import Offer, OfferLine
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets.page import TicketPage
from fitcounter.desk.tickets.payments import SAID
from fitcounter.web.fields import DayField
from fitcounter.web.forms import SavedForm, TextField

FREE_LINES = 1


class AgreeForm(SavedForm):
    """line_n_what and line_n_amount are the price lines; tag_<item id> the code of a tag that hangs
    ready.

    extra_<finding> and sum_<finding>: what may be done as well.
    """

    agreed = BooleanField("She has read it, and agrees")
    name = TextField(
        "Her name, typed", most=80, needed="Type the customer's name: it stands for her yes."
    )
    initials = TextField("Initials", most=8)
    signature = HiddenField()
    promise = DayField("Promised for")
    deposit = TextField("Deposit taken now", most=14)


def agree_form(offer: Offer, shop: Shop, name: str) -> AgreeForm:
    """The form for what is offered, filled in with it."""
    fields: dict[str, Any] = {}
    for number in range(len(offer.lines) + FREE_LINES):
        line = _offered(offer, number)
        amount = money.plain(line.amount_minor, shop.currency) if line.amount_minor else ""
        fields[f"line_{number}_what"] = TextField(f"Line {number + 1}", most=80, default=line.what)
        fields[f"line_{number}_amount"] = TextField(f"Sum {number + 1}", most=14, default=amount)
    for extra in offer.extras:
        fields[f"extra_{extra.word}"] = BooleanField(extra.line)
        fields[f"sum_{extra.word}"] = TextField(f"Sum: {extra.job}", most=14)
    for item in offer.waiting:
        which = f"{item.side} boot" if item.side else item.description or item.kind
        fields[f"tag_{item.id}"] = TextField(
            f"Tag for the {which}",
            most=80,
            render_kw={"data-tag": "", "autocapitalize": "characters"},
        )
    form = type("AgreeWithLines", (AgreeForm,), fields)
    held = {
        "name": name,
        "promise": offer.promise.isoformat() if offer.promise else "",
        "deposit": money.plain(offer.deposit_minor, shop.currency) if offer.deposit_minor else "",
        "version": str(offer.ticket.version),
    }
    return cast(AgreeForm, form(data=None if request.method == "POST" else held))


def stands(page: TicketPage, shop: Shop) -> dict[str, str]:
    """What is on the ticket now, in the words of this form, for somebody whose own came second."""
    said = {
        f"Line {number + 1}": f"{one.what}, {money.plain(one.amount_minor, shop.currency)}"
        for number, one in enumerate(page.lines)
    }
    if page.consents:
        said |= {"Her name, typed": page.consents[-1].name, "Initials": page.consents[-1].initials}
    else:
        said["Agreed"] = "nothing yet"
    said |= {SAID[one.kind]: money.plain(one.amount_minor, shop.currency) for one in page.payments}
    days = {
        "Promised for": page.ticket.promise_day,
        "Pickup day": page.ticket.pickup_day,
        "Note": page.ticket.note,
    }
    return {name: text for name, text in {**said, **days}.items() if text}


def read_agreed(form: AgreeForm, offer: Offer, shop: Shop, now: datetime) -> Agreed:
    """What was agreed. Raises BadFields with a sentence for every field that cannot be taken."""
    problems = Problems()
    if not form.agreed.data:
        problems.add("agreed", "Tick this when she has read what may happen, and agrees to it.")
    lines = _lines(form, offer, shop, problems)
    with problems.reading():
        promise = read_day(form.promise.data or "", shop.today(now), "promise")
    with problems.reading():
        deposit = money.read_amount(form.deposit.data or "", shop.currency, "deposit")
    more, jobs = _extras(form, offer, shop, problems)
    problems.raise_any()
    codes = {item.id: form[f"tag_{item.id}"].data or "" for item in offer.waiting}
    return Agreed(
        (*lines, *more),
        form.name.data,
        promise,
        deposit,
        form.initials.data or "",
        form.signature.data or "",
        {item_id: code for item_id, code in codes.items() if code},
        form.seen_version,
        jobs,
    )


def _lines(form: AgreeForm, offer: Offer, shop: Shop, problems: Problems) -> list[OfferLine]:
    """The lines with words or a sum; a line that was offered keeps its kind and its item."""
    lines = []
    for number in range(len(offer.lines) + FREE_LINES):
        what, where = form[f"line_{number}_what"].data or "", f"line_{number}_amount"
        typed = form[where].data or ""
        if typed and not what:
            problems.add(f"line_{number}_what", "Say what this sum is for.")
        with problems.reading():
            amount = money.read_amount(typed, shop.currency, where)
            if what:
                offered = _offered(offer, number)
                lines.append(OfferLine(what, offered.kind, amount, offered.item_id))
    return lines


def _extras(
    form: AgreeForm, offer: Offer, shop: Shop, problems: Problems
) -> tuple[list[OfferLine], dict[int, str]]:
    """What she said yes to while they are here: its price lines, and the jobs of each item."""
    lines: list[OfferLine] = []
    jobs: dict[int, list[str]] = {}
    for extra in offer.extras:
        wanted, where = form[f"extra_{extra.word}"].data, f"sum_{extra.word}"
        typed = form[where].data or ""
        with problems.reading():
            amount = money.read_amount(typed, shop.currency, where)
            if wanted:
                lines.append(OfferLine(extra.line, "job", amount, extra.item_ids[0]))
        if typed and not wanted:
            problems.add(where, f"Tick “{extra.line}” if she wants it, or take its sum out.")
        if wanted and not typed:
            problems.add(where, "Type what it costs; 0 where it is free.")
        for item_id in extra.item_ids if wanted else ():
            jobs.setdefault(item_id, []).append(extra.job)
    return lines, {item_id: ", ".join(names) for item_id, names in jobs.items()}


def _offered(offer: Offer, number: int) -> OfferLine:
    """The line of that number, an empty one beyond those that are offered."""
    return offer.lines[number] if number < len(offer.lines) else OfferLine("", "flat", 0)
