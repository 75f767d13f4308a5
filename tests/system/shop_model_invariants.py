"""What must stand after every step: the file is as the model, the kept plan is the fresh one, and
who waits longer is called.
"""

from __future__ import annotations

from hypothesis.stateful import invariant
from system.shop_model_jobs import TREES, Boot, Foreseen, Job
from system.shop_model_steps import ShopSteps

from fitcounter.desk.front_desk import pickup, ticket_rows
from fitcounter.desk.front_desk import today as front_desk_today
from fitcounter.desk.plan import plan as bench_plan
from fitcounter.desk.plan import plan_keeping, who_is_late
from fitcounter.desk.plan.plan_inputs import IN_PLAN
from fitcounter.desk.plan.ready_day import DayState
from fitcounter.store import bench_days, bills, plans, rounds
from fitcounter.store.records import Item


class MustStand(ShopSteps):
    """What must stand, whatever was done."""

    @invariant()
    def the_file_is_as_the_model(self) -> None:
        for job in self.jobs:
            rows = {row.id: row for row in self._ticket(job)}
            for boot in job.boots:
                self._boot(boot, rows[boot.id])
        running = {
            (one.item_id, one.tree_id)
            for one in plans.bookings(self.store)
            if one.kind == "running"
        }
        ids = {label: number + 1 for number, label in enumerate(TREES)}
        assert running == {
            (boot.id, ids[boot.tree]) for job in self.jobs for boot in job.boots if boot.tree
        }, "who holds which tree"

    @invariant()
    def the_kept_plan_is_the_fresh_one(self) -> None:
        """Planned once more from the rows as they stand, nothing of the kept plan differs."""
        if self.written_at is None:
            return
        kept_days = list(bench_days.everything(self.store).values())
        self.store.db.execute("BEGIN")
        bench_days.replace_all(self.store, [])  # so that every boot is reckoned anew as well
        fresh = bench_plan.make(self.store, self.shop, self.written_at)
        self.store.db.execute("ROLLBACK")
        assert kept_days == sorted(plan_keeping.rows_of(fresh), key=lambda row: row.item_id), (
            "the days of the boots"
        )
        kept = [one for one in plans.bookings(self.store) if one.kind == "planned"]
        assert {
            plans.Claim(one.tree_id, one.item_id or 0, one.round_n or 0, one.from_day, one.to_day)
            for one in kept
        } == set(plan_keeping.claims_of(self.store, fresh)), "the trees that are booked"

    @invariant()
    def every_place_gives_one_open_day_and_who_waits_longer_is_called(self) -> None:
        """Find's row is Today's; no day is said on which the shop is closed; whoever will be late,
        or has no day, is a call to make; the plan counts the same late jobs.
        """
        today, days = self.shop.today(self.now), self._days()
        rows = ticket_rows.open_rows(self.store, self.shop, today)
        for row in rows:
            assert ticket_rows.row_of(self.store, row.ticket, self.shop, today).when == row.when
            assert row.when.day is None or days.is_open(row.when.day)
            assert row.when.day is None or row.when.day >= today
        lists = front_desk_today.desk_lists(self.store, self.shop, rows, self.now)
        to_call = {row.ticket.id for row in lists.calls}
        off_track = [row for row in rows if row.when.late or row.when.state == "held"]
        assert {row.ticket.id for row in off_track} <= to_call
        if self.written_at is not None and self.shop.today(self.written_at) == today:
            made = bench_plan.make(self.store, self.shop, self.now)
            late = who_is_late.slipping(
                self.store, self.shop, self.now, made, DayState.LATE, ask=False
            )
            counted = sorted(row.ticket.id for row in lists.late)
            assert counted == sorted(one.row.ticket_id for one in late)

    def look_at_the_calls(self) -> None:
        """At the end of a day: no promise has passed that was not among the calls to make on the
        last open day before it, unless until then the likely rounds would have done.
        """
        today = self.shop.today(self.now)
        rows = ticket_rows.open_rows(self.store, self.shop, today)
        for row in rows:
            seen = self.foreseen.get(row.ticket.id)
            if row.when.promised is None or not row.when.late:
                continue
            if row.when.promised < today and seen and seen.promised == row.when.promised:
                assert seen.called or seen.could, f"ticket {row.ticket.number} was not told of"
        if not self._days().is_open(today):
            return
        to_call = front_desk_today.desk_lists(self.store, self.shop, rows, self.now).calls
        called = {row.ticket.id for row in to_call}
        fresh = bench_plan.make(self.store, self.shop, self.now).plan
        for row in rows:
            promised = row.when.promised
            if promised is not None and promised > today:
                hopes = [fresh.boot(str(item.id)) for item in row.items if item.state in IN_PLAN]
                could = all(boot is not None and boot.hope <= promised for boot in hopes)
                self.foreseen[row.ticket.id] = Foreseen(promised, row.ticket.id in called, could)

    def _ticket(self, job: Job) -> list[Item]:
        held = pickup.look(self.store, job.ticket_id)
        assert held.ticket.state == job.state
        assert len(bills.payments(self.store, job.ticket_id)) == job.payments
        assert held.sums.due_minor == job.due
        assert (held.customer.id, held.customer.name) == (
            job.customer_id,
            "erased" if job.erased else job.name,
        )
        assert (
            self.store.value("SELECT count(*) FROM comebacks WHERE ticket_id = ?", job.ticket_id)
            == job.comebacks
        )
        return held.items

    def _boot(self, boot: Boot, row: Item) -> None:
        assert (row.state, row.shelf, row.version) == (boot.state, boot.shelf, boot.version), boot
        held = rounds.of_item(self.store, boot.id)
        assert len(held) == boot.rounds, boot
        assert [one.n for one in held] == list(range(1, len(held) + 1))
        on = [one for one in held if one.on_at and not one.off_at]
        assert len(on) == (boot.state == "on-tree"), boot
