"""When a step happened, as somebody says it on its form."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from flask import Flask
from support.cast import Clock

from fitcounter.errors import BadInput
from fitcounter.web.forms.when_it_happened import happened_at

ZONE = "America/New_York"


def told(app: Flask, clock: Clock, choice: str, typed: str = "") -> datetime:
    with app.test_request_context("/"):
        app.preprocess_request()
        return happened_at(choice, typed, ZONE)


def test_each_choice_is_an_instant_of_the_shops_own_clock(app: Flask, clock: Clock) -> None:
    """It is ten in the morning there; the clock of the machine says two in the afternoon."""
    assert told(app, clock, "now") == clock.now
    assert told(app, clock, "morning") == datetime(2026, 3, 17, 13, tzinfo=UTC)
    assert told(app, clock, "yesterday") == datetime(2026, 3, 16, 22, tzinfo=UTC)
    assert told(app, clock, "time", "2026-03-14T16:20") == datetime(2026, 3, 14, 20, 20, tzinfo=UTC)


@pytest.mark.parametrize("typed", ["2026-03-18T16:20", "tomorrow", ""])
def test_what_has_not_come_yet_or_is_no_time_is_asked_again(
    app: Flask, clock: Clock, typed: str
) -> None:
    with pytest.raises(BadInput):
        told(app, clock, "time", typed)
