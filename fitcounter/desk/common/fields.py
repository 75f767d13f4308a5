"""Days, whole numbers and hours as they are typed."""

from __future__ import annotations

from datetime import date

from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput

FAR_DAYS = 730


def read_day(typed: str, today: date, field: str, *, past_ok: bool = False) -> date | None:
    """A typed day, ISO order as a date field sends it; empty is none. Raises BadInput.

    Between today and two years on; past_ok: between two years back and today.
    """
    text = typed.strip()
    if not text:
        return None
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = None
    if (
        day is None or day.isoformat() != text
    ):  # fromisoformat also reads week dates and days without dashes
        raise BadInput(
            say("Type the date as year-month-day, like 2026-04-25."), typed=typed, field=field
        )
    if past_ok and not -FAR_DAYS <= (day - today).days <= 0:
        raise BadInput(
            say("Type a date from the last two years, today at the latest."),
            typed=typed,
            field=field,
        )
    if not past_ok and day < today:
        raise BadInput(
            say("That date has passed. Type today or a later date."), typed=typed, field=field
        )
    if not past_ok and (day - today).days > FAR_DAYS:
        raise BadInput(
            say("That is more than two years away. Check the year."),
            typed=typed,
            field=field,
        )
    return day


def read_whole(typed: str, least: int, most: int, field: str, what: str) -> int:
    """A typed whole number in a range. Raises BadInput."""
    text = typed.strip()
    if not (text.isascii() and text.isdigit() and len(text) < 10 and least <= int(text) <= most):
        raise BadInput(
            say(
                "Type {what} as a whole number from {least} to {most}.",
                what=what,
                least=least,
                most=most,
            ),
            typed=typed,
            field=field,
        )
    return int(text)


def check_hours(opens_at: str, closes_at: str, field: str = "closes_at") -> None:
    """Hours like 09:00, in order. Raises BadInput at the field."""
    if closes_at <= opens_at:
        raise BadInput(
            say("Closing time must be after opening time. Type both again."),
            typed=closes_at,
            field=field,
        )
