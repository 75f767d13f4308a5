"""The last four digits: what they open closes again by itself, and wrong ones have to wait."""

from __future__ import annotations

from support.cast import Clock, Counter

from fitcounter.desk.staff.throttle import LAST_FOUR
from fitcounter.web.customer.last_four_digits import OPEN_FOR


def ask(stranger: Counter, token: str, digits: str) -> int:
    stranger.get(f"/c/{token}/agreed")
    return stranger.post(f"/c/{token}/agreed", digits=digits).status_code


def test_wrong_digits_wait_longer_each_time_and_keep_out_nobody_for_good(
    stranger: Counter, token: str, clock: Clock
) -> None:
    assert [ask(stranger, token, f"900{n}") for n in range(LAST_FOUR.free)] == [422] * 5
    assert ask(stranger, token, "0142") == 429
    clock.on(seconds=LAST_FOUR.first_s)
    assert ask(stranger, token, "0142") == 303


def test_right_digits_end_the_count(stranger: Counter, token: str) -> None:
    for _ in range(2):
        assert [ask(stranger, token, f"900{n}") for n in range(4)] == [422] * 4
        assert ask(stranger, token, "0142") == 303


def test_what_was_opened_is_closed_after_half_an_hour_though_the_phone_keeps_it(
    stranger: Counter, token: str, clock: Clock
) -> None:
    """The program goes by the time it signed, not by the phone's memory."""
    ask(stranger, token, "0142")
    held = stranger.client.get_cookie("agreed", path=f"/c/{token}")
    assert held is not None
    assert "$90" in stranger.get(f"/c/{token}/agreed").text
    clock.on(seconds=OPEN_FOR.total_seconds())
    stranger.client.set_cookie("agreed", held.value, path=f"/c/{token}")
    assert "$90" not in stranger.get(f"/c/{token}/agreed").text
