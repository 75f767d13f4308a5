"""Paper jobs put in as a list: rehearsed first and taken back, then all of them at once, each as a
job that is already here.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from fitcounter import how_far
from fitcounter.desk.common.translation import say, say_n
from fitcounter.desk.intake import half_done_paper_job, new_job
from fitcounter.desk.intake.half_done_paper_job import Already, Stands
from fitcounter.desk.intake.job_records import Boots, NewJob, Thing, Who
from fitcounter.desk.intake.paper_list_csv import CsvLine, PaperJob
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, FitCounterError, message
from fitcounter.store import tags, tickets
from fitcounter.store.customers import name_key
from fitcounter.store.database import Act, Store, Written, dbapi

READING = message("Reading paper jobs")


class BadList(BadInput):
    """Lines that cannot be taken; nothing was stored.

    lines: all of them, those with a sentence are to be put right.
    """

    def __init__(self, lines: list[CsvLine]) -> None:
        wrong = sum(1 for line in lines if line.sentence)
        super().__init__(
            say_n(
                "{count} line is wrong, so nothing is saved.",
                "{count} lines are wrong, so nothing is saved.",
                wrong,
            ),
            field="lines",
        )
        self.lines = lines


class _Rehearsed(Exception):
    """Ends a rehearsal: everything is taken back."""


def rehearse(
    store: Store, act: Act, shop: Shop, lines: Sequence[CsvLine], data_dir: Path
) -> list[CsvLine]:
    """The same lines, with a sentence where the shop as it stands cannot take one.

    Nothing is stored.
    """
    found: list[CsvLine] = []
    try:
        with store.write_tx():
            found = _write_all(store, act, shop, lines, data_dir)
            raise _Rehearsed
    except _Rehearsed:
        return found


def put_in(store: Store, act: Act, shop: Shop, lines: Sequence[CsvLine], data_dir: Path) -> Written:
    """All jobs, or none: raises BadList when a line cannot be taken. row_id: how many there are."""

    def write() -> Written:
        done = _write_all(store, act, shop, lines, data_dir)
        if any(line.sentence for line in done):
            raise BadList(done)
        return Written(row_id=len(done), detail={"jobs": len(done)})

    return store.once(act, "paper-jobs", write)


def _write_all(
    store: Store, act: Act, shop: Shop, lines: Sequence[CsvLine], data_dir: Path
) -> list[CsvLine]:
    """Inside a write: each line by itself, so that one that cannot be taken does not spoil what is
    said of the next.
    """
    found = []
    # lines with a number of their own first, so that no new number takes theirs
    ordered = sorted(lines, key=lambda one: one.job is None or one.job.number is None)
    for line in how_far.Part(READING, partial(len, lines)).each(ordered):
        if line.job is not None:
            store.db.execute("SAVEPOINT line")
            try:
                _write(store, act, shop, line.job, data_dir)
            except (FitCounterError, dbapi.IntegrityError) as error:
                store.db.execute("ROLLBACK TO line")
                said = (
                    error.sentence
                    if isinstance(error, FitCounterError)
                    else say("A tree on this line is booked on those days.")
                )
                line = CsvLine(line.n, line.name, None, said)
            store.db.execute("RELEASE line")
        found.append(line)
    return sorted(found, key=lambda one: one.n)


def _write(store: Store, act: Act, shop: Shop, job: PaperJob, data_dir: Path) -> None:
    if job.number is not None:
        _free(store, job.number)
    boots = (
        Boots(job.what.sides, "unknown", "zip", "leather", job.what.looks)
        if job.what.sides
        else None
    )
    things = tuple(
        Thing(one.kind, one.description, one.jobs, job.promised) for one in job.what.pieces
    )
    trees = job.where.trees or ("",) * len(job.what.sides)
    stands = tuple(
        Stands(side, job.where.state, job.since, tree, job.where.shelf)
        for side, tree in zip(job.what.sides, trees, strict=True)
    )
    things_stand = Stands(
        "", "shelved" if job.where.state == "shelved" else "queued", job.since, "", job.where.shelf
    )
    paper = Already(
        NewJob(_who(store, job), boots, things, note=job.note),
        stands,
        job.promised,
        0,
        0,
        things_stand,
        job.number,
    )
    half_done_paper_job.write_in(store, act, shop, paper, data_dir)


def _who(store: Store, job: PaperJob) -> Who:
    """Somebody the shop knows by this very number and name, else somebody new."""
    same = [
        one for one in new_job.known(store, job.phone) if name_key(one.name) == name_key(job.name)
    ]
    return Who(job.name, job.phone, same[0].id if same else None)


def _free(store: Store, number: int) -> None:
    if tickets.open_by_number(store, number) is not None:
        raise Conflict(
            say(
                "Ticket {number} is already open. Remove this line, or leave the number empty.",
                number=number,
            )
        )
    if any(tag.number == number for tag in tags.free(store)):
        raise Conflict(
            say(
                "Number {number} is on a pre-printed tag. Leave it empty, or retire that tag.",
                number=number,
            )
        )
