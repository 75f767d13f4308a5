"""What the form at pickup sends when everything is handed over."""

from __future__ import annotations

from support.ticket_rows import Job


def all_of(job: Job) -> dict[str, object]:
    return {
        "items": [str(job.left), str(job.right), str(job.bag)],
        "collected_by": "Marisol",
        "paid": "60",
        "method": "card",
        "evening": "19:00",
        "preset": "three-short-wears",
    }
