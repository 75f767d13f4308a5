"""The accountant's file: a row a payment, a line and a tax, to the cent, in the shop's locale."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest
from support.ticket_rows import make_job

from fitcounter.desk.book import accountant_csv
from fitcounter.desk.common import money
from fitcounter.desk.common.translation import speaking
from fitcounter.desk.shop import Shop
from fitcounter.store import bills, tickets
from fitcounter.store.database import Act, Store

AT = datetime(2026, 3, 17, 3, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    ("locale", "point", "separator"), [("en_US", ".", ","), ("es_ES", ",", ";")]
)
def test_rows_agree_with_the_ticket_and_open_where_the_shop_is(
    store: Store, choices: Shop, locale: str, point: str, separator: str
):
    shop = replace(choices, locale=locale)
    act = Act(AT, 1)
    job = make_job(store, act, name="=Ada")
    with store.write_tx():
        store.change(
            "tickets",
            job.ticket_id,
            tax_basis_points=725,
            state="out",
            handed_over_at="2026-03-17T03:30:00Z",
        )
        bills.take_off(store, job.ticket_id, "Discount", 333, "a regular")
        bills.bill(store, job.ticket_id, "2026-03-17T03:30:00Z")
        bills.pay(store, act, job.ticket_id, "refund", 105, "late", method="cash")
    with speaking("en"):
        text = b"".join(accountant_csv.parts(store, shop, date(2026, 1, 1), date(2026, 6, 30)))
    head, *rows = csv.reader(text.decode("utf-8-sig").splitlines(), delimiter=separator)
    assert head[:4] == ["day", "row", "ticket", "name"]
    assert {row[0] for row in rows} == {"2026-03-16"}, "the shop's own day"
    assert {row[3] for row in rows} == {"'=Ada"}
    amounts = [(row[1], Decimal(row[6].replace(point, "."))) for row in rows]
    ticket = tickets.get(store, job.ticket_id)
    lines, paid = bills.lines(store, ticket.id), bills.payments(store, ticket.id)
    sums = money.sums(ticket, lines, paid)
    of_lines = sum(amount for kind, amount in amounts if kind in ("line", "Tax"))
    of_payments = sum(amount for kind, amount in amounts if kind in ("Deposit", "Refund"))
    assert of_lines == Decimal(sums.total_minor) / 100
    assert of_payments == Decimal(sums.paid_minor) / 100
    assert f"-1{point}05" in text.decode("utf-8-sig"), "a figure below nought is a figure"


def test_what_came_after_the_first_pickup_is_billed_on_its_own_day(store: Store, choices: Shop):
    job = make_job(store, Act(AT, 1))
    with store.write_tx():
        store.change("tickets", job.ticket_id, tax_basis_points=725)
        bills.bill(store, job.ticket_id, "2026-03-17T03:30:00Z")
        bills.add_line(store, job.ticket_id, bills.NewLine("One more round", "round", 3333))
        bills.bill(store, job.ticket_id, "2026-05-20T15:00:00Z")
        store.change("tickets", job.ticket_id, handed_over_at="2026-05-20T15:00:00Z")
    months = (date(2026, 3, 1), date(2026, 3, 31)), (date(2026, 5, 1), date(2026, 5, 31))
    told = []
    for first, last in months:
        text = b"".join(accountant_csv.parts(store, choices, first, last)).decode("utf-8-sig")
        rows = list(csv.reader(text.splitlines()))
        told.append([(row[0], row[1], row[6]) for row in rows if row[1] in ("line", "Tax")])
    assert told == [
        [("2026-03-16", "line", "90.00"), ("2026-03-16", "Tax", "6.53")],
        [("2026-05-20", "line", "33.33"), ("2026-05-20", "Tax", "2.41")],
    ]


def test_a_span_without_anything_is_its_head_alone(store: Store, choices: Shop):
    parts = list(accountant_csv.parts(store, choices, date(2024, 1, 1), date(2026, 1, 1)))
    assert len(parts) == 1
