"""What is odd is asked about before it is saved."""

from __future__ import annotations

from datetime import time

import pytest

from fitcounter.desk.aftercare import wear_doubts
from fitcounter.errors import BadInput
from fitcounter.store.database import Store


@pytest.mark.parametrize(("minutes", "asked"), [(14, True), (15, False), (45, False), (46, True)])
def test_half_and_half_as_much_again_are_the_limits(
    store: Store, home, minutes: int, asked: bool
) -> None:
    if not asked:
        assert wear_doubts.ask_minutes(store, home.ticket_id, 1, minutes) is None
        return
    with pytest.raises(BadInput, match=str(minutes)):
        wear_doubts.ask_minutes(store, home.ticket_id, 1, minutes)


@pytest.mark.parametrize(
    ("at", "asked"),
    [
        (time(6, 59), "at night"),
        (time(7), ""),
        (time(21, 59), ""),
        (time(22), "at night"),
    ],
)
def test_the_night_is_from_ten_to_seven(at: time, asked: str) -> None:
    if not asked:
        assert wear_doubts.ask_hour(at) is None
        return
    with pytest.raises(BadInput, match=asked):
        wear_doubts.ask_hour(at)
