"""What is odd is asked about before it is saved."""

from __future__ import annotations

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


@pytest.mark.parametrize(("hour", "asked"), [(6, True), (7, False), (21, False), (22, True)])
def test_the_night_is_from_ten_to_seven(hour: int, asked: bool) -> None:
    if not asked:
        assert wear_doubts.ask_hour(hour) is None
        return
    with pytest.raises(BadInput):
        wear_doubts.ask_hour(hour)
