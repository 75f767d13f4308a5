"""The language that a customer's page speaks, and who it speaks it to."""

from __future__ import annotations

from support.cast import Counter

GUESSED = "/c/" + "A" * 22
IN_ENGLISH, IN_SPANISH = "This link does not work.", "Este enlace no funciona."


def test_the_phones_own_language_is_spoken_until_another_is_chosen(stranger: Counter) -> None:
    asked = {"Accept-Language": "es-MX,es;q=0.9,en;q=0.8"}
    assert IN_SPANISH in stranger.client.get(GUESSED, headers=asked).text
    assert IN_ENGLISH in stranger.client.get(f"{GUESSED}?language=en", headers=asked).text
    stranger.client.set_cookie("her-language", "en")
    assert IN_ENGLISH in stranger.client.get(GUESSED, headers=asked).text


def test_the_next_one_is_spoken_to_in_their_own_language(stranger: Counter) -> None:
    """Also where the page before ended in an error."""
    assert IN_SPANISH in stranger.client.get(f"{GUESSED}?language=es").text
    assert IN_ENGLISH in stranger.client.get(GUESSED).text
