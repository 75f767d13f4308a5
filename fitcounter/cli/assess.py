"""`assess` and `handbook`: the computation from a file, with the standard library alone."""

from __future__ import annotations

import argparse
import json
import sys

from fitcounter.cli.job_file import read_json
from fitcounter.errors import message
from fitcounter.fit.assessment import assess as fit_assess
from fitcounter.fit.assessment.handbook_notes import Note, beside_the_ceiling, the_saying
from fitcounter.fit.handbook.all_figures import entries
from fitcounter.fit.handbook.figure import Figure


def assess(given: argparse.Namespace) -> int:
    """Print whether the boots of a job file can be stretched, and how, as one JSON object."""
    answer = fit_assess.assess(fit_assess.read_job(read_json(given.job))).as_json()
    text = json.dumps(answer, ensure_ascii=False, indent=2, allow_nan=False)
    try:
        text.encode(sys.stdout.encoding)
    except UnicodeEncodeError:  # a terminal without our signs: escapes say the same (RFC 8259 §7)
        text = json.dumps(answer, indent=2, allow_nan=False)
    print(text)
    return 0


def handbook(given: argparse.Namespace) -> int:
    """Print every figure the computation uses, with its unit, its source and how far to trust it,
    and what to hold them against.
    """
    for entry in entries():
        print(given.told(_line(entry)))
    for note in beside_the_ceiling():
        print(given.told(message("Beside the ceiling · {note}", note=_note(note))))
    print(given.told(message("A saying · {note}", note=_note(the_saying()))))
    return 0


def _note(note: Note) -> str:
    return message(
        "{sentence} ({trust}: {source})",
        sentence=note.sentence,
        trust=str(note.trust),
        source=note.source,
    )


def _line(entry: Figure) -> str:
    return message(
        "{chapter} · {name}: {value} ({trust}: {source})",
        chapter=entry.chapter,
        name=entry.name,
        value=entry.text,
        trust=str(entry.trust),
        source=entry.source,
    )
