"""Whatever is done with the money of a ticket, in whatever order: what is shown, listed, printed,
exported, kept by the file and closed in the till agrees to the last minor unit.
"""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from random import Random

import pytest
from babel.numbers import get_currency_precision
from support.cast import Clock
from support.ticket_rows import Job, make_job

from fitcounter.desk.bench import other_work
from fitcounter.desk.bench.other_work import WorkStepInput as WorkStep
from fitcounter.desk.book import accountant_csv, month_figure_rows, month_figures
from fitcounter.desk.common import money
from fitcounter.desk.common.translation import speaking
from fitcounter.desk.documents import claim_check_and_tags as documents_ticket
from fitcounter.desk.front_desk import pickup, ticket_rows
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import cancel, payments, price_change, till
from fitcounter.desk.tickets import more_work as tickets_work
from fitcounter.desk.tickets import page as tickets_page
from fitcounter.desk.tickets.cancel import Cancellation
from fitcounter.desk.tickets.more_work import WorkInput
from fitcounter.desk.tickets.payments import METHODS, Typed
from fitcounter.desk.tickets.price_change import LineInput, PriceChange
from fitcounter.desk.tickets.till import Count
from fitcounter.errors import FitCounterError
from fitcounter.store import bills, items, tickets, tills, works
from fitcounter.store import month_figures as store_figures
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.month_figures import FigureSpan

STEPS = 24
SHOPS = [("USD", 725, 0), ("EUR", 2100, 1), ("JPY", 1000, 0), ("KWD", 333, 0), ("USD", 0, 0)]


class Ledger:
    """One ticket and somebody who does at random what a front desk does."""

    def __init__(self, store: Store, shop: Shop, job: Job, clock: Clock, folder: Path, seed: int):
        self.store, self.shop, self.job, self.clock = store, shop, job, clock
        self.folder, self.random = folder, Random(seed)
        self.done: Counter[str] = Counter()

    @property
    def act(self) -> Act:
        return Act(self.clock.on(minutes=1), 1)

    def typed(self, most: int) -> str:
        amount = self.random.randint(1, max(1, most))
        return money.plain(amount, tickets.get(self.store, self.job.ticket_id).currency)

    def step(self) -> None:
        name = self.random.choice(
            [
                *("pay", "pay", "refund", "correct", "line", "discount", "cancel", "undo", "close"),
                *("work", "work_line", "bill"),
            ]
        )
        try:
            getattr(self, name)()
            self.done[name] += 1
        except FitCounterError:
            self.done["refused"] += 1

    def pay(self) -> None:
        method = self.random.choice(list(METHODS))
        typed = Typed("payment", self.typed(5000), method=method, tip=self.typed(300), above=True)
        payments.write_down(self.store, self.act, self.job.ticket_id, typed)

    def refund(self) -> None:
        due = self.sums().due_minor
        typed = Typed("refund", self.typed(4000), "so", method="cash")
        payments.write_down(self.store, self.act, self.job.ticket_id, typed)
        assert self.sums().due_minor == max(due, 0) or due < 0, "never asked for again"

    def correct(self) -> None:
        sign = self.random.choice(["-", "+"])
        typed = Typed("correction", sign + self.typed(2000), "so", method="cash")
        payments.write_down(self.store, self.act, self.job.ticket_id, typed)

    def line(self) -> None:
        held = bills.lines(self.store, self.job.ticket_id)
        lines = [LineInput(one.id, one.what, abs(one.amount_minor)) for one in held]
        lines.append(LineInput(None, "One more", self.random.randint(0, 5000)))
        self.change(lines=tuple(lines), yes="phone")

    def work(self) -> None:
        """A job on one or both boots or the bag, at any price."""
        things = [self.job.left, self.job.right, self.job.bag]
        on = frozenset(self.random.sample(things, self.random.randint(1, 3)))
        amount, what = self.random.randint(0, 4000), self.random.choice(["Heel tips", "Dyed"])
        asks = PriceChange(lines=(), why=what, yes="phone")
        typed = WorkInput(what=what, item_ids=on, price=amount, asks=asks)
        ticket_id = self.job.ticket_id
        tickets_work.add(self.store, self.act, self.shop, ticket_id, typed, self.folder)

    def work_line(self) -> None:
        lines = works.lines_of_ticket(self.store, self.job.ticket_id)
        if lines:
            to = self.random.choice(["working", "done", "not-done", "waiting"])
            line, typed = self.random.choice(lines), WorkStep(to, note="so", anyway=True)
            other_work.set_line(self.store, self.act, line.id, self.clock.now, typed)

    def discount(self) -> None:
        share = f"{self.random.randint(1, 40)}.{self.random.randint(0, 9)}%"
        self.change(
            lines=(), discount=self.random.choice([share, self.typed(1500)]), discount_why="so"
        )

    def change(self, **typed: object) -> None:
        told = PriceChange(**{"why": "so", **typed})  # type: ignore[arg-type]
        price_change.change(self.store, self.act, self.shop, self.job.ticket_id, told, self.folder)

    def cancel(self) -> None:
        listed = sum(one.amount_minor for one in bills.lines(self.store, self.job.ticket_id))
        charge = self.random.randint(0, max(0, listed))
        item_id = self.random.choice([None, self.job.bag, self.job.left])
        typed = Cancellation(item_id=item_id, charge_minor=charge)
        cancel.cancel(self.store, self.act, self.shop, self.job.ticket_id, typed, self.folder)

    def undo(self) -> None:
        cancel.undo(self.store, self.act, self.shop, self.job.ticket_id)

    def close(self) -> None:
        page = till.look(self.store, self.shop, self.clock.now, 0)
        counted = {one.method: one.expected_minor for one in page.lines}
        till.close(self.store, self.act, self.shop, Count(counted, 0, "", page.seen))

    def bill(self) -> None:
        """Picked up, and open again at once: what comes later is billed later."""
        with self.store.write_tx():
            bills.bill(self.store, self.job.ticket_id, utc_text(self.act.at))

    def sums(self) -> money.Sums:
        ticket = tickets.get(self.store, self.job.ticket_id)
        lines = bills.lines(self.store, ticket.id)
        return money.sums(ticket, lines, bills.payments(self.store, ticket.id))

    def agrees(self) -> None:
        """Page, pickup, list and file say the same balance."""
        ticket_id, sums = self.job.ticket_id, self.sums()
        ticket = tickets.get(self.store, ticket_id)
        assert sums.total_minor >= 0
        assert sums.paid_minor >= 0
        assert tickets_page.look(self.store, ticket_id).sums == sums
        assert pickup.look(self.store, ticket_id).sums == sums
        (row,) = ticket_rows.open_rows(self.store, self.shop, self.shop.today(self.clock.now))
        assert row.due_minor == sums.due_minor
        kept = self.store.value("SELECT due_minor FROM tickets WHERE id = ?", ticket_id)
        assert kept == sums.due_minor
        self.work_agrees()
        owed = tills.owed_minor(self.store).get(ticket.currency, 0)
        assert owed == max(sums.due_minor, 0)

    def work_agrees(self) -> None:
        """Work that is billed has its line; what is ready or goes back has no open work."""
        billed = {one.id for one in bills.lines(self.store, self.job.ticket_id)}
        for one in works.lines_of_ticket(self.store, self.job.ticket_id):
            assert one.line_id is None or one.line_id in billed
            where = items.get(self.store, one.item_id).state
            assert not one.is_open or (one.line_id and where not in ("shelved", "declined"))

    def prints(self) -> None:
        """The claim check says the same, and its lines come to its total."""
        ticket = tickets.get(self.store, self.job.ticket_id)
        check = documents_ticket.claim_check(
            self.store, self.shop, ticket.id, "https://bench.example", self.folder, self.clock.now
        )
        sums = self.sums()

        def said(minor: int) -> str:
            return money.say(minor, ticket.currency)

        assert check.total == said(sums.total_minor)
        assert check.due == said(max(sums.due_minor, 0))
        assert check.credit == (said(-sums.due_minor) if sums.due_minor < 0 else "")
        lines = bills.lines(self.store, ticket.id)
        on_top = 0 if ticket.tax_included else sums.tax_minor
        assert sum(one.quantity * one.amount_minor for one in lines) + on_top == sums.total_minor

    def exports(self) -> None:
        """Once picked up, the accountant's rows come to what was paid and to the total."""
        ticket, sums = tickets.get(self.store, self.job.ticket_id), self.sums()
        self.bill()
        day = self.shop.today(self.clock.now)
        spanned = (day - timedelta(days=60), day + timedelta(days=1))
        with speaking("en"):
            text = b"".join(accountant_csv.parts(self.store, self.shop, *spanned)).decode(
                "utf-8-sig"
            )
        _, *rows = csv.reader(io.StringIO(text))
        assert {(row[2], row[8]) for row in rows} == {(str(ticket.number), ticket.currency)}
        scale = Decimal(10) ** get_currency_precision(ticket.currency)
        came, tips = Counter[str](), Decimal(0)
        for _, kind, _, _, _, _, amount, tip, _ in rows:
            name = kind if kind in ("line", "Tax", "Tax included") else "paid"
            came[name] += int(Decimal(amount) * scale)
            tips += Decimal(tip or 0) * scale
        assert came["paid"] == sums.paid_minor
        assert came["line"] + came["Tax"] == sums.total_minor
        assert came["Tax"] + came["Tax included"] == sums.tax_minor
        assert tips == (self.store.value("SELECT sum(tip_minor) FROM payments") or 0)

    def figures(self) -> None:
        """The owner's figures of these days, of any two halves of them together, and the list that
        each leads to, come to the same.
        """
        sums, today = self.sums(), self.shop.today(self.clock.now)
        first = today - timedelta(days=60)
        page = month_figures.look(self.store, self.shop, self.clock.now, first, today)
        assert page.income_minor == sums.paid_minor
        assert page.one["work"].amount == page.one["leather"].amount
        assert page.billed_minor == sums.total_minor
        assert page.one["tax"].amount == sums.tax_minor
        assert page.one["owed"].amount == max(0, sums.due_minor)
        assert page.one["to-give-back"].amount == max(0, -sums.due_minor)
        assert page.one["held"].amount == max(0, -sums.due_minor), "all of it is billed"
        for one in (*page.one.values(), *page.work, *page.leather):
            days = (first, today)
            behind = month_figure_rows.behind(
                self.store, self.shop, self.clock.now, one.name, days, one.of
            )
            assert sum(row.amount for row, _ in behind.rows) == one.amount, one
            assert len(behind.rows) == one.number, one

    def halves(self) -> None:
        """What was billed and taxed before an instant and from it on comes to the whole."""
        every = ("0", "9")
        billed = [one.billed_at or "5" for one in bills.lines(self.store, self.job.ticket_id)]
        cut = self.random.choice([*billed, "5"])
        for name in ("payments", "refunds", "work", "leather", "tax", "tips"):
            parts = [
                sum(one.amount for one in store_figures.sums(self.store, name, self.asked(*span)))
                for span in (every, ("0", cut), (cut, "9"))
            ]
            assert parts[0] == parts[1] + parts[2], name

    def asked(self, first: str, last: str) -> FigureSpan:
        return FigureSpan(first, last, self.shop.currency)

    def closes(self) -> None:
        """All closed tills together hold every payment and every tip once."""
        self.close()
        rows = self.store.rows("SELECT expected FROM tills")
        closed = sum(sum(json.loads(row["expected"]).values()) for row in rows)
        tips = self.store.value("SELECT sum(tip_minor) FROM payments") or 0
        assert closed == self.sums().paid_minor + tips


@pytest.mark.parametrize(("currency", "points", "included"), SHOPS)
@pytest.mark.parametrize("seed", [1, 2])
def test_all_sums_agree_after_any_order_of_steps(
    store: Store,
    clock: Clock,
    tmp_path: Path,
    currency: str,
    points: int,
    included: int,
    seed: int,
):
    store.follow_ups = ()  # no bench is planned for money
    act = Act(clock.now, 1)
    job = make_job(store, act)
    with store.write_tx():
        store.change(
            "tickets",
            job.ticket_id,
            currency=currency,
            tax_basis_points=points,
            tax_included=included,
        )
    shop = Shop(currency=currency, tax_basis_points=points, tax_included=bool(included))
    ledger = Ledger(store, shop, job, clock, tmp_path, seed)
    for _ in range(STEPS):
        ledger.step()
        ledger.agrees()
    ledger.prints()
    ledger.exports()
    ledger.figures()
    ledger.halves()
    ledger.closes()
    assert ledger.done["pay"] > 1
    assert sum(ledger.done.values()) == STEPS
