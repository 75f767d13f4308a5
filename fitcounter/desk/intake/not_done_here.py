"""Work that was asked for while a job is taken in and that the shop does not do: answered in one
line, and kept on the ticket as asked for.
"""

from __future__ import annotations

import re
from dataclasses import replace

from fitcounter.desk.intake.job_records import NewJob, Thing
from fitcounter.desk.quote import picked_line, price_list, work_lines
from fitcounter.desk.quote.price_list import PriceEntry
from fitcounter.errors import BadInput
from fitcounter.store.database import Act, Store

_BETWEEN = re.compile(r"[,;\n]")


def apart(store: Store, job: NewJob) -> tuple[NewJob, list[PriceEntry]]:
    """The job with what the shop does, and what it does not do. An item for which nothing is left
    to do is not taken in.

    Raises BadInput at the first such work where nothing at all is left of the job.
    """
    asked: list[PriceEntry] = []
    things: list[Thing] = []
    for thing in job.things:
        parts = [part.strip() for part in _BETWEEN.split(thing.jobs)]
        answers = {part: entry for part in parts if (entry := _answered(store, part)) is not None}
        asked += answers.values()
        left = [part for part in parts if part and part not in answers]
        if not answers:
            things.append(thing)
        elif left:
            things.append(replace(thing, jobs=", ".join(left)))
    if asked and job.boots is None and not things:
        raise BadInput(asked[0].said_answer, typed=job.things[0].jobs, field=job.things[0].field)
    return replace(job, things=tuple(things)), asked


def _answered(store: Store, part: str) -> PriceEntry | None:
    """The entry that is meant, where it has an answer."""
    found = price_list.find(store, part)
    return found[0] if len(found) == 1 and found[0].answer else None


def keep(store: Store, act: Act, ticket_id: int, asked: list[PriceEntry]) -> str:
    """Keeps them on the ticket, inside a write; the answers, "" where there are none."""
    for entry in asked:
        work_lines.keep_asked(store, act, ticket_id, picked_line.asked_line(entry))
    return " ".join(dict.fromkeys(entry.said_answer for entry in asked))
