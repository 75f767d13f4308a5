"""Payments and price lines as a table for the accountant: one row a payment, and one a line and the
tax of each ticket on the day they were billed: at pickup, or later where they came later. It opens
in a spreadsheet of the shop's locale.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from contextlib import closing
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

from babel.numbers import get_currency_precision, get_decimal_symbol

from fitcounter.desk.book.estimate_csv import safe_cell
from fitcounter.desk.book.income_by_day import span
from fitcounter.desk.common import money
from fitcounter.desk.common.translation import say, speech_at
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets.payments import METHODS, SAID
from fitcounter.store import bills, customers, income, tickets
from fitcounter.store.database import Store, utc_time
from fitcounter.store.income import PaidRow

AT_ONCE_DAYS = 7


def parts(store: Store, shop: Shop, first: date, last: date) -> Iterator[bytes]:
    """CSV in UTF-8 with a byte order mark, a week at a time, by a connection of its own; the first
    week is read before anything is sent.
    """
    heads = [
        say("day"),
        say("row"),
        say("ticket"),
        say("name"),
        say("for"),
        say("how paid"),
        say("amount"),
        say("tip"),
        say("currency"),
    ]
    rows = _Rows(shop)
    until = min(last, first + timedelta(days=AT_ONCE_DAYS - 1))
    begin = _written([heads, *rows.of(store, first, until)], rows.separator)
    return _parts(begin, rows, store.path, until + timedelta(days=1), last)


def _parts(begin: str, rows: _Rows, path: Path, first: date, last: date) -> Iterator[bytes]:
    yield begin.encode("utf-8-sig")
    if first > last:
        return
    with closing(Store(path)) as store:
        while first <= last:
            until = min(last, first + timedelta(days=AT_ONCE_DAYS - 1))
            found = rows.of(store, first, until)
            if found:
                yield _written(found, rows.separator).encode()
            first = until + timedelta(days=1)


class _Rows:
    """Rows as the shop's locale writes figures; words in the language that asked."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.point = get_decimal_symbol(speech_at(shop).locale)
        self.separator = ";" if self.point == "," else ","
        self.kinds = {kind: say(words) for kind, words in SAID.items()}
        self.methods = {method: say(words) for method, words in METHODS.items()}
        self.line, self.tax = say("line"), say("Tax")

    def of(self, store: Store, first: date, last: date) -> list[list[object]]:
        begins, ends = span(self.shop, first, last)
        rows = [self._paid(one) for one in income.payments(store, begins, ends)]
        for ticket_id, at in income.billed(store, begins, ends):
            rows += self._ticket(store, ticket_id, at)
        return rows

    def _paid(self, one: PaidRow) -> list[object]:
        signed = -one.amount_minor if one.kind == "refund" else one.amount_minor
        return [
            self._day(one.at),
            self.kinds[one.kind],
            one.number,
            one.name,
            one.note,
            self.methods.get(one.method, ""),
            self._amount(signed, one.currency),
            self._amount(one.tip_minor, one.currency) if one.tip_minor else "",
            one.currency,
        ]

    def _ticket(self, store: Store, ticket_id: int, at: str) -> Iterator[list[object]]:
        """What was billed of it at an instant, and the tax on that; where prices are with tax, the
        tax is what they include.
        """
        ticket = tickets.get(store, ticket_id)
        name, day = customers.get(store, ticket.customer_id).name, self._day(at)
        lines = [one for one in bills.lines(store, ticket_id) if one.billed_at]
        before = [one for one in lines if str(one.billed_at) < at]
        new = [one for one in lines if one.billed_at == at]
        for line in new:
            amount = self._amount(line.quantity * line.amount_minor, ticket.currency)
            told = [day, self.line, ticket.number, name, line.what, ""]
            yield [*told, amount, "", ticket.currency]
        upto, earlier = (money.sums(ticket, some, ()) for some in (before + new, before))
        tax = upto.tax_minor - earlier.tax_minor
        if tax:
            words = say("Tax included") if ticket.tax_included else self.tax
            amount = self._amount(tax, ticket.currency)
            yield [day, words, ticket.number, name, "", "", amount, "", ticket.currency]

    def _day(self, at: str | None) -> str:
        return self.shop.today(utc_time(at)).isoformat() if at else ""

    def _amount(self, minor: int, currency: str) -> str:
        digits = get_currency_precision(currency)
        return str(Decimal(minor).scaleb(-digits)).replace(".", self.point)


def _written(rows: Sequence[Sequence[object]], separator: str) -> str:
    """Figures below nought stay figures: only words are made harmless."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=separator)
    writer.writerows(
        [cell if _is_figure(cell) else safe_cell(cell) for cell in row] for row in rows
    )
    return out.getvalue()


def _is_figure(cell: object) -> bool:
    text = str(cell)
    return text.removeprefix("-").replace(",", "").replace(".", "").isdigit()
