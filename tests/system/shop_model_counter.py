"""The model at the counter: jobs are taken in, measured, agreed, handed over, back, erased."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import strategies as st
from hypothesis.stateful import initialize, precondition, rule
from support.measured_pair import BOOT, GAPS, cells, sheet_of
from system.shop_model_jobs import BOOTS, DEPOSIT, GONE, MOST_JOBS, PRICE, Boot, Job
from system.shop_model_steps import ShopSteps

from fitcounter.desk.aftercare import comeback
from fitcounter.desk.data import erasure
from fitcounter.desk.front_desk import pickup
from fitcounter.desk.intake import new_job
from fitcounter.desk.intake.job_records import Boots, NewJob, Who
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.quote import agree
from fitcounter.desk.quote import verdict as quote_answer
from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.store import items, tickets
from fitcounter.store.database import Act, Written


class CounterRules(ShopSteps):
    """What happens to a job at the counter."""

    @initialize()
    def two_pairs_are_in_work(self) -> None:
        for n in range(2):
            self.take_in()
            self.measure(n, False)
            self.agree(n, False)

    @precondition(lambda self: len(self.jobs) < MOST_JOBS)
    @rule()
    def take_in(self) -> None:
        name = f"Ada Quill {self.number}"
        boots = Boots(("left", "right"), "supple-full-grain", "zip", "leather")
        written = self.must(
            "take in",
            True,
            lambda act: new_job.open_ticket(self.store, act, self.shop, NewJob(Who(name), boots)),
        )
        assert written is not None
        held = items.of_ticket(self.store, written.ticket_id)  # type: ignore[arg-type]
        customer = tickets.get(self.store, written.ticket_id).customer_id  # type: ignore[arg-type]
        pair = [Boot(one.id, str(one.side), version=one.version) for one in held]
        self.jobs.append(Job(written.ticket_id, written.row_id, customer, name, pair))

    @rule(n=st.integers(0, 5), stale=st.booleans())
    def measure(self, n: int, stale: bool) -> None:
        job = self.job(n)
        version = int(self.store.value("SELECT version FROM fits WHERE id = ?", job.fit_id)) - stale
        sheet = sheet_of("gap", cells(gap=GAPS, boot=BOOT))
        if self.must(
            "measure",
            not stale and not job.erased,
            lambda act: measuring_save.save(self.store, act, job.fit_id, sheet, Terms(), version),
        ):
            job.measured = True

    @rule(n=st.integers(0, 5), stale=st.booleans())
    def agree(self, n: int, stale: bool) -> None:
        job = self.job(n)
        if job.measured and not job.erased and not job.agreed:
            assert quote_answer.answer(
                self.store, self.shop, job.fit_id, self.now.date()
            ).can_stretch
        version = tickets.get(self.store, job.ticket_id).version - stale
        said = agree.Agreed(
            (OfferLine("Stretching the pair", "flat", PRICE),),
            job.name,
            promise=self._days().next_open(self.shop.today(self.now) + timedelta(days=21 + 3 * n)),
            deposit_minor=DEPOSIT,
            version=version,
        )
        waiting = [
            boot for boot in job.boots if boot.state == "counter"
        ]  # one that needs nothing may be done before
        may = job.measured and not stale and bool(waiting)
        if self.must(
            "agree",
            may,
            lambda act: agree.agree(self.store, act, self.shop, job.ticket_id, said, self.folder),
        ):
            job.agreed, job.due, job.payments = True, job.due + PRICE - DEPOSIT, job.payments + 1
            for boot in waiting:
                boot.state, boot.version, boot.back = "queued", boot.version + 1, []

    @rule(n=st.integers(0, 5), paid=st.sampled_from([0, 2000, PRICE - DEPOSIT]))
    def hand_over(self, n: int, paid: int) -> None:
        job = self.job(n)
        here = [boot for boot in job.boots if boot.state not in GONE]
        may = bool(here) and all(boot.state in ("shelved", "declined", "finished") for boot in here)
        handed = pickup.Handover(
            frozenset(boot.id for boot in here), self.now, "Ada", paid, preset="three-short-wears"
        )
        if self.must(
            "hand over",
            may,
            lambda act: pickup.hand_over(self.store, act, job.ticket_id, handed, self.shop),
        ):
            job.state, job.due, job.payments = "out", job.due - paid, job.payments + bool(paid)
            for boot in here:
                boot.state, boot.version, boot.back = "out", boot.version + 1, []

    @rule(n=BOOTS)
    def come_back(self, n: int) -> None:
        boot = self.boot(n, "out")
        job = next(one for one in self.jobs if boot in one.boots)
        typed = comeback.ComebackInput(self.now, "tight again", "13 5/8", "", "in")
        if self.must(
            "come back",
            boot.state == "out" and not job.erased,
            lambda act: comeback.come_back(self.store, act, boot.id, typed, self.shop),
        ):
            # one for the step, one for the day that it is promised for
            boot.state, boot.version, boot.back = "queued", boot.version + 2, []
            job.state, job.comebacks = "open", job.comebacks + 1

    @rule(n=st.integers(0, 5))
    def erase(self, n: int) -> None:
        job = self.job(n)

        def work(act: Act) -> Written:
            erasure.erase(self.store, act, job.customer_id, job.name)
            return Written()

        if self.must("erase", job.state != "open" and not job.erased, work):
            job.erased = True
            for boot in job.boots:
                boot.back = []
            self.last = None
