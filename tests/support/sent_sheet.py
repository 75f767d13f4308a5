"""A measuring sheet as it is sent, and how many readings are stored."""

from __future__ import annotations

from support.cast import Counter

from fitcounter.store.database import Store


def count(store: Store) -> int:
    return int(
        store.value(
            "SELECT (SELECT count(*) FROM leg_readings) + (SELECT count(*) FROM boot_readings) +"
            " (SELECT count(*) FROM gap_readings)"
        )
    )


def send(counter: Counter, fit_id: int, form: dict[str, object], query: str = ""):
    counter.get(f"/fits/{fit_id}/measure")
    return counter.post(f"/fits/{fit_id}/measure{query}", **form)
