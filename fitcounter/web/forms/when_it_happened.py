"""When a step happened, as somebody says it: just now, this morning, at an earlier time."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from fitcounter.desk.common.translation import say, say_later
from fitcounter.errors import BadInput
from fitcounter.web.offline.waited_on_phone import typed_at

# Most are just now; the rest are a tap away.
WHEN = (
    ("now", say_later("Just now")),
    ("morning", say_later("This morning")),
    ("yesterday", say_later("Yesterday evening")),
    ("time", say_later("At another time")),
)


def happened_at(choice: str, typed: str, zone: str) -> datetime:
    """The instant a step happened, from the choice and a typed local time (2026-03-14T16:20). Never
    later than now.

    "Just now" is when it was typed, also where it waited on a phone before it came here. Raises
    BadInput.
    """
    now = typed_at()
    local = now.astimezone(ZoneInfo(zone))
    if choice in ("", "now"):
        return now
    if choice == "morning":
        at = local.replace(hour=9, minute=0, second=0, microsecond=0)
    elif choice == "yesterday":
        at = datetime.combine(local.date() - timedelta(days=1), time(18), tzinfo=ZoneInfo(zone))
    else:
        at = _typed_time(typed, zone)
    if at > now:
        if choice == "morning":
            return now
        raise BadInput(
            say("That time has not come yet. Type when it happened."),
            typed=typed,
            field="happened_time",
        )
    return at.astimezone(UTC)


def _typed_time(typed: str, zone: str) -> datetime:
    try:
        return datetime.strptime(typed.strip()[:16], "%Y-%m-%dT%H:%M").replace(
            tzinfo=ZoneInfo(zone)
        )
    except ValueError:
        raise BadInput(
            say("Type the date and time, like 2026-03-14 16:20."),
            typed=typed,
            field="happened_time",
        ) from None
