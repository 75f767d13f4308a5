"""Payments beside agreeing and pickup: a payment, a refund, a correction.

Each is a row of its own; none ever changes.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.store import bills, customers, tickets
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Customer, Payment, PriceLine, Ticket

# What each entry is called on the shop's pages, and what there is to choose.
SAID = {
    "deposit": marked("Deposit"),
    "payment": marked("Payment"),
    "refund": marked("Refund"),
    "correction": marked("Correction"),
}
KINDS = {
    "payment": marked("Take a payment"),
    "refund": marked("Give a refund"),
    "correction": marked("Correct an entry"),
}
NO_CARDS = marked("This looks like a card number. Card numbers are not saved: type it without.")
NEEDS_PIN = ("refund", "correction")
METHODS = {
    "cash": marked("Cash"),
    "card": marked("Card"),
    "transfer": marked("Transfer"),
    "other": marked("Other"),
}
_AUDIT = {"payment": "money-taken", "refund": "money-given-back", "correction": "money-put-right"}
MOST_MINOR = 100_000_000  # what a row of the file takes
CARD_FIGURES = range(
    13, 20
)  # ISO/IEC 7812-1: a card's number has at most 19 figures, the last of them a check figure
_MINUS = "-\u2212\u2013"


class Typed(NamedTuple):
    """what: of KINDS.

    amount: as typed. method: of METHODS, how it was given. tip: as typed, beside a payment. above:
    more than the balance is meant so. seen: the last payment that stood on the page, 0 for none;
    None where it does not matter.
    """

    what: str
    amount: str
    why: str = ""
    seen: int | None = None
    method: str = ""
    tip: str = ""
    above: bool = False


def takes_money(
    customer: Customer, lines: Sequence[PriceLine], payments: Sequence[Payment]
) -> bool:
    """Something was agreed or paid, and the customer was not erased."""
    return customer.erased_at is None and bool(lines or payments)


def last_id(payments: Sequence[Payment]) -> int:
    """Payments are only ever added: the last one tells which of them a page showed."""
    return max((one.id for one in payments), default=0)


def write_down(store: Store, act: Act, ticket_id: int, typed: Typed) -> Written:
    """Adds the payment to the ticket.

    Raises BadInput (no amount, no reason, a refund of more than was paid, a card's number),
    OutOfOrder (nothing agreed yet, or the customer erased), Conflict (another payment was saved
    since the page was opened).
    """

    if typed.what not in KINDS:
        words = say("Pick what it is: payment, refund or correction.")
        raise BadInput(words, typed=typed.what, field="what")
    if typed.what in NEEDS_PIN and not typed.why:
        raise BadInput(say("Type the reason in a few words."), field="why")
    if looks_like_card(typed.why):
        raise BadInput(say(NO_CARDS), typed=typed.why, field="why")
    return store.once(act, _AUDIT[typed.what], lambda: _write(store, act, ticket_id, typed))


def _write(store: Store, act: Act, ticket_id: int, typed: Typed) -> Written:
    ticket = tickets.get(store, ticket_id)
    payments = bills.payments(store, ticket_id)
    lines = bills.lines(store, ticket_id)
    if not takes_money(customers.get(store, ticket.customer_id), lines, payments):
        raise OutOfOrder(
            say(
                "Nothing is agreed on this ticket, or the customer was erased. No payment can"
                " be saved."
            )
        )
    if typed.seen not in (None, last_id(payments)):
        raise Conflict(
            say(
                "Someone saved a payment on this ticket meanwhile. Check what is paid now, then"
                " save yours."
            )
        )
    sums = money.sums(ticket, lines, payments)
    amount = _amount(ticket, typed, sums.paid_minor)
    if typed.what == "payment":
        not_above(ticket, amount, sums.due_minor, above=typed.above)
    tip = read_tip(typed.tip if typed.what == "payment" else "", ticket.currency)
    bills.pay(
        store,
        act,
        ticket_id,
        typed.what,
        amount,
        typed.why,
        method=typed.method,
        tip_minor=tip,
    )
    if typed.what == "refund":
        lower_price(store, ticket, amount - max(0, -sums.due_minor))
        if ticket.state != "open":
            bills.bill(store, ticket_id, utc_text(act.at))
    return Written(ticket_id, words=say(SAID[typed.what]), detail={"amount": amount})


def read_method(typed: str | None, amount_minor: int, field: str = "method") -> str:
    """How money was given, "" where none was. Raises BadInput where that is not said."""
    if not amount_minor:
        return ""
    if typed not in METHODS:
        words = say("Pick how it was paid: cash, card, transfer or other.")
        raise BadInput(words, typed=typed or "", field=field)
    return typed


def read_tip(typed: str, currency: str) -> int:
    """A tip in minor units. Raises BadInput."""
    tip = money.read_amount(typed, currency, "tip")
    if tip > MOST_MINOR:
        words = say("This amount is too large. Type a smaller one.")
        raise BadInput(words, typed=typed, field="tip")
    return tip


def not_above(ticket: Ticket, amount_minor: int, due_minor: int, *, above: bool) -> None:
    """A payment above the balance is asked about once. Raises BadInput at field above."""
    due = max(due_minor, 0)
    if amount_minor <= due or above:
        return
    words = say(
        "{amount} is more than the balance of {due}. Tick this if it is meant so.",
        amount=money.say(amount_minor, ticket.currency),
        due=money.say(due, ticket.currency),
    )
    raise BadInput(words, field="above")


def lower_price(store: Store, ticket: Ticket, off_minor: int) -> None:
    """Takes off the price what was given back beyond what the shop owed, inside a write: money
    that was given back is not asked for again. Why stays beside the refund: it is the shop's own,
    and a price line stands on the customer's papers.
    """
    if off_minor <= 0:
        return
    net, rest = money.before_tax(ticket, bills.lines(store, ticket.id), off_minor)
    if net:
        bills.take_off(store, ticket.id, "Discount", net)
    if rest:
        bills.take_off(store, ticket.id, "Rounding" if net else "Discount", rest, taxable=0)


def _amount(ticket: Ticket, typed: Typed, paid_minor: int) -> int:
    """The typed amount in minor units of the ticket's currency; only a correction may have a minus.
    Raises BadInput.
    """
    text, sign = typed.amount.strip(), 1
    if typed.what == "correction" and text[:1] in (*_MINUS, "+"):
        sign, text = (1 if text[0] == "+" else -1), text[1:]
    amount = sign * money.read_amount(text, ticket.currency, "amount")
    if not amount or abs(amount) > MOST_MINOR:
        words = (
            say("Type an amount above zero, like 45.")
            if not amount
            else say("This amount is too large. Type a smaller one.")
        )
        raise BadInput(words, typed=typed.amount, field="amount")
    left = paid_minor + (-amount if typed.what == "refund" else amount)
    if left < 0:
        paid = money.say(paid_minor, ticket.currency)
        words = (
            say("Only {amount} is paid. Refund at most that.", amount=paid)
            if typed.what == "refund"
            else say("Only {amount} is paid. Take off at most that.", amount=paid)
        )
        raise BadInput(words, typed=typed.amount, field="amount")
    return amount


def looks_like_card(text: str) -> bool:
    """13 to 19 figures in a row, single or in groups, whose last is the check figure of the others
    (Luhn, ISO/IEC 7812-1).
    """
    for row in re.findall(r"\d+(?:[\s.\-\u2010-\u2015/]{1,2}\d+)*", text):
        groups = re.findall(r"\d+", row)
        for first in range(len(groups)):
            for behind in range(first + 1, len(groups) + 1):
                joined = "".join(groups[first:behind])
                if len(joined) in CARD_FIGURES and _checks(joined):
                    return True
    return False


def _checks(figures: str) -> bool:
    total = 0
    for place, one in enumerate(reversed(figures)):
        doubled = int(one) * (1 + place % 2)
        total += doubled - 9 if doubled > 9 else doubled
    return total % 10 == 0
