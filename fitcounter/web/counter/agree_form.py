"""The fields of Price and agreement: price lines, the name, the deposit, the printed day, a tag for
each item.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any, cast

from flask import request
from wtforms import BooleanField, HiddenField, RadioField

from fitcounter.desk.common import money
from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.quote import rush
from fitcounter.desk.quote.agree import Agreed
from fitcounter.desk.quote.extras import Extra
from fitcounter.desk.quote.offer import Offer
from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.desk.shop import Shop, Store
from fitcounter.desk.tickets import payments
from fitcounter.desk.tickets.page import TicketPage, name_of
from fitcounter.desk.tickets.payments import SAID
from fitcounter.errors import BadInput
from fitcounter.web.counter import free_line
from fitcounter.web.forms.fields import DayField
from fitcounter.web.forms.saved_form import SavedForm, TextField, said

ODD_TIMES = 10


class AgreeForm(SavedForm):
    """line_n_what and line_n_amount are the price lines; tag_<item id> the code of a tag that hangs
    ready.

    extra_<finding> and sum_<finding>: what may be done as well.
    """

    agreed = BooleanField(say_later("The customer has read this and agrees"))
    name = TextField(
        say_later("Customer’s name, typed"),
        most=80,
        needed=say_later("Type the customer’s name. It stands for their yes."),
    )
    initials = TextField(say_later("Initials"), most=8)
    signature = HiddenField()
    promise = DayField(say_later("Promised day"))
    rush = BooleanField(say_later("Rush job"))
    rush_amount = TextField(say_later("Amount: rush"), most=14)
    deposit = TextField(say_later("Deposit paid now"), most=14)
    method = RadioField(
        say_later("How the deposit is paid"), choices=said(payments.METHODS), validate_choice=False
    )
    odd = BooleanField(say_later("The price is right as typed"))
    asked = BooleanField(say_later("Keep it as asked for, without a price"))


def agree_form(offer: Offer, shop: Shop, name: str) -> AgreeForm:
    """The form for what is offered, filled in with it."""
    fields: dict[str, Any] = {}
    for number, line in enumerate(offer.lines):
        amount = money.plain(line.amount_minor, shop.currency) if line.amount_minor else ""
        most = line_limit(line.what)
        fields[f"line_{number}_what"] = TextField(_line_label(number), most=most, default=line.what)
        fields[f"line_{number}_amount"] = TextField(
            say("Amount {number}", number=number + 1),
            most=14,
            default=amount,
            render_kw=None if line.taxable else {"data-plain": ""},
        )
    fields |= free_line.fields(offer)
    for extra in offer.extras:
        fields[f"extra_{extra.word}"] = BooleanField(extra.line)
        usual = extra.price_minor
        fields[f"sum_{extra.word}"] = TextField(
            say("Amount: {work}", work=extra.job),
            most=14,
            render_kw={
                **({} if usual is None else {"placeholder": money.plain(usual, shop.currency)}),
                **({} if extra.entry.taxable else {"data-plain": ""}),
            },
        )
    for item in offer.waiting:
        fields[f"tag_{item.id}"] = TextField(
            say("Tag: {item}", item=name_of(item)),
            most=80,
            render_kw={"data-tag": "", "autocapitalize": "characters"},
        )
    form = type("AgreeWithLines", (AgreeForm,), fields)
    held = {
        "name": name,
        "promise": offer.promise.isoformat() if offer.promise else "",
        "version": str(offer.ticket.version),
        "rush": bool(offer.ticket.rush),
        "rush_amount": money.plain(shop.rush_minor, shop.currency),
    }
    return cast(AgreeForm, form(data=None if request.method == "POST" else held))


def line_limit(offered: str) -> int:
    """How long a price line may be: what the program fills in itself is never too long."""
    return max(80, len(offered))


def _line_label(number: int) -> str:
    return say("Line {number}", number=number + 1)


def stands(page: TicketPage, shop: Shop) -> dict[str, str]:
    """What is on the ticket now, in the words of this form, for somebody whose own came second."""
    said = {
        _line_label(number): f"{one.what}, {money.plain(one.amount_minor, shop.currency)}"
        for number, one in enumerate(page.lines)
    }
    if page.consents:
        last = page.consents[-1]
        said |= {say("Customer’s name, typed"): last.name, say("Initials"): last.initials}
    else:
        said[say("Agreed")] = say("nothing yet")
    said |= {
        say(SAID[one.kind]): money.plain(one.amount_minor, shop.currency) for one in page.payments
    }
    days = {
        say("Promised day"): page.ticket.promise_day,
        say("Pickup day"): page.ticket.pickup_day,
        say("Note"): page.ticket.note,
    }
    return {name: text for name, text in {**said, **days}.items() if text}


def read_agreed(store: Store, shop: Shop, form: AgreeForm, offer: Offer, now: datetime) -> Agreed:
    """What was agreed. Raises BadFields with a sentence for every field that cannot be taken."""
    problems = Problems()
    if not form.agreed.data:
        problems.add(
            "agreed", say("Tick this when the customer has read what may happen and agrees.")
        )
    lines = _lines(form, offer, shop, problems)
    lines += free_line.read(store, shop, form, offer, problems)
    with problems.reading():
        promise = read_day(form.promise.data or "", shop.today(now), "promise")
    deposit, method = _deposit(form, shop, problems)
    more = _extras(form, offer, shop, problems)
    more += _rush(form, offer, shop, problems)
    problems.raise_any()
    _odd(form, [*lines, *more], deposit, shop)
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
        method,
        bool(form.rush.data) if offer.charges_rush else None,
    )


def _deposit(form: AgreeForm, shop: Shop, problems: Problems) -> tuple[int, str]:
    """What was paid now, and how."""
    deposit, method = 0, ""
    with problems.reading():
        deposit = money.read_amount(form.deposit.data or "", shop.currency, "deposit")
        method = payments.read_method(form.method.data, deposit)
    return deposit, method


def _odd(form: AgreeForm, lines: Sequence[OfferLine], deposit: int, shop: Shop) -> None:
    """Asks once about a line ten times as dear as the dearest job of the shop, and about a deposit
    above all lines. Raises BadInput.
    """
    usual = max(shop.stretch_minor, shop.panel_minor, shop.round_minor)
    dear = [one for one in lines if usual and one.amount_minor > ODD_TIMES * usual]
    total = sum(one.amount_minor for one in lines)
    if form.odd.data or not (dear or deposit > total):
        return
    odd = dear[0].amount_minor if dear else deposit
    amount = money.say(odd, shop.currency)
    words = (
        say("{amount} for “{what}”? Tick this if it is right.", amount=amount, what=dear[0].what)
        if dear
        else say(
            "A deposit of {amount} is more than the price. Tick this if it is right.", amount=amount
        )
    )
    raise BadInput(words, field="odd")


def _lines(form: AgreeForm, offer: Offer, shop: Shop, problems: Problems) -> list[OfferLine]:
    """The lines with words or an amount; a line that was offered keeps its kind and its item."""
    lines = []
    for number, offered in enumerate(offer.lines):
        what, where = form[f"line_{number}_what"].data or "", f"line_{number}_amount"
        typed = form[where].data or ""
        if typed and not what:
            problems.add(f"line_{number}_what", say("Type what this amount is for."))
        if what and not typed:
            problems.add(where, say("Type the price, or 0 if it is free."))
        with problems.reading():
            amount = money.read_amount(typed, shop.currency, where)
            if what:
                lines.append(replace(offered, what=what, amount_minor=amount))
    return lines


def _extras(form: AgreeForm, offer: Offer, shop: Shop, problems: Problems) -> list[OfferLine]:
    """What was agreed to while they are here: its price lines, each with the job it is for."""
    lines: list[OfferLine] = []
    for extra in offer.extras:
        wanted, where = form[f"extra_{extra.word}"].data, f"sum_{extra.word}"
        typed = form[where].data or ""
        with problems.reading():
            amount = money.read_amount(typed, shop.currency, where)
            usual = extra.price_minor if not typed else None
            if wanted:
                lines.append(_of_extra(extra, amount if usual is None else usual))
            if wanted and not typed and usual is None:
                problems.add(where, say("Type the price, or 0 if it is free."))
        if typed and not wanted:
            problems.add(where, say("Tick “{work}”, or remove the amount.", work=extra.line))
    return lines


def _of_extra(extra: Extra, amount_minor: int) -> OfferLine:
    entry = extra.entry
    return OfferLine(
        extra.line,
        "job",
        amount_minor,
        extra.item_ids[0],
        entry.taxable,
        extra.item_ids,
        timing=entry.timing,
        work=entry.what,
        days=entry.days,
    )


def _rush(form: AgreeForm, offer: Offer, shop: Shop, problems: Problems) -> list[OfferLine]:
    """The line of a rush job, where it is one and was not agreed before."""
    if not (offer.charges_rush and form.rush.data):
        return []
    if not form.rush_amount.data:
        problems.add("rush_amount", say("Type the price, or 0 if it is free."))
    with problems.reading():
        amount = money.read_amount(form.rush_amount.data or "", shop.currency, "rush_amount")
        return [OfferLine(rush.LINE, "job", amount)]
    return []
