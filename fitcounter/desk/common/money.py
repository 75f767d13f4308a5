"""The sums of a ticket, in whole minor units.

Rounding is half up, once, on the tax of the whole ticket.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation
from typing import NamedTuple

from babel.numbers import format_currency, get_currency_precision

from fitcounter.desk.common import translation
from fitcounter.errors import BadInput
from fitcounter.store.records import Payment, PriceLine, Ticket


class Sums(NamedTuple):
    """Tax, total, paid and due of a ticket, in minor units.

    due may be negative: then the shop owes.
    """

    tax_minor: int
    total_minor: int
    paid_minor: int
    due_minor: int


def sums(ticket: Ticket, lines: Iterable[PriceLine], payments: Iterable[Payment]) -> Sums:
    """tax_basis_points of the ticket are 1/100 of a percent, added to the lines or contained in
    them.
    """
    taxed = plain = 0
    for line in lines:
        amount = line.quantity * line.amount_minor
        taxed, plain = (taxed + amount, plain) if line.taxable else (taxed, plain + amount)
    return sums_of(ticket, (taxed, plain), sum(signed(one) for one in payments))


def sums_of(ticket: Ticket, listed: tuple[int, int], paid: int) -> Sums:
    """The same from the sums of the lines, taxed and not, and of the payments."""
    taxed, plain = listed
    rate = Decimal(ticket.tax_basis_points) / 10000
    if ticket.tax_included:
        tax = _whole(taxed - Decimal(taxed) / (1 + rate))
        total = taxed + plain
    else:
        tax = _whole(taxed * rate)
        total = taxed + tax + plain
    return Sums(tax, total, paid, total - paid)


def signed(payment: Payment) -> int:
    """What a payment adds to what is paid: a refund takes off. A tip is apart."""
    return -payment.amount_minor if payment.kind == "refund" else payment.amount_minor


def before_tax(ticket: Ticket, lines: Iterable[PriceLine], off_minor: int) -> tuple[int, int]:
    """How a total is lowered by just so much: off the lines that are taxed, and the rest of it,
    mostly 0, without tax.
    """
    taxed = sum(one.quantity * one.amount_minor for one in lines if one.taxable)
    now = sums_of(ticket, (taxed, 0), 0).total_minor
    if ticket.tax_included or not ticket.tax_basis_points:
        net = max(0, min(off_minor, taxed))
        return net, off_minor - net
    net = min(taxed, off_minor * 10000 // (10000 + ticket.tax_basis_points) + 1)
    while net > 0 and now - sums_of(ticket, (taxed - net, 0), 0).total_minor > off_minor:
        net -= 1
    net = max(0, net)
    return net, off_minor - (now - sums_of(ticket, (taxed - net, 0), 0).total_minor)


def say(minor: int, currency: str, words: translation.Speech | None = None) -> str:
    """Minor units as a sum, as the language writes it: $45.00, −$5.00. words: None for the one
    spoken now.
    """
    locale = (words or translation.spoken()).locale
    amount = Decimal(minor).scaleb(-get_currency_precision(currency))
    return format_currency(amount, currency, locale=locale).replace("-", "−")


def plain(minor: int, currency: str) -> str:
    """A sum as it is typed: 90, 90.50, -5."""
    digits = int(get_currency_precision(currency))
    whole, rest = divmod(abs(minor), 10**digits)
    return f"{'-' if minor < 0 else ''}{whole}" + (f".{rest:0{digits}}" if rest else "")


def read_amount(typed: str, currency: str, field: str, *, signed: bool = False) -> int:
    """A typed sum as minor units: 45, 45.00, 45,00, $45. Empty is 0. Raises BadInput.

    signed: it may begin with a minus.
    """
    if signed and typed.strip()[:1] in ("-", "\u2212"):
        return -read_amount(typed.strip()[1:], currency, field)
    text = "".join(one for one in typed.strip() if one not in "$€£ \u00a0")
    if not text:
        return 0
    digits = get_currency_precision(currency)
    example = "45" if digits == 0 else translation.spoken().decimals("45.00")
    whole, _, rest = text.replace(",", ".").partition(".")
    plain = (
        text.isascii()
        and whole.isdigit()
        and (rest.isdigit() or not rest)
        and len(rest) <= digits
        and len(whole) <= 6
    )
    if not plain:
        raise BadInput(
            translation.say("Type an amount, like {example}.", example=example),
            typed=typed,
            field=field,
        )
    try:
        return int(Decimal(text.replace(",", ".").rstrip(".")).scaleb(digits))
    except InvalidOperation:
        raise BadInput(
            translation.say("Type an amount, like {example}.", example=example),
            typed=typed,
            field=field,
        ) from None


def _whole(amount: Decimal) -> int:
    return int(amount.quantize(Decimal(1), ROUND_HALF_UP))
