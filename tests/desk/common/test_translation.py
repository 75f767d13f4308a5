"""What is said follows the language and the country of whoever reads it."""

from __future__ import annotations

from datetime import date, time

import pytest

from fitcounter.desk.common import translation
from fitcounter.desk.shop import Shop


@pytest.mark.parametrize(
    ("language", "shop", "day", "year", "clock", "things"),
    [
        ("en", "en_US", "Tue, Apr 14", "April 14, 2026", "6:00 PM", "bag, belt, and shoes"),
        ("en", "en_GB", "Tue 14 Apr", "14 April 2026", "18:00", "bag, belt and shoes"),
        ("en", "es_ES", "Tue, Apr 14", "April 14, 2026", "6:00 PM", "bag, belt, and shoes"),
        ("es", "en_US", "mar, 14 abr", "14 de abril de 2026", "18:00", "bag, belt y shoes"),
        ("es", "es_ES", "mar, 14 abr", "14 de abril de 2026", "18:00", "bag, belt y shoes"),
        ("en_GB", "", "Tue 14 Apr", "14 April 2026", "18:00", "bag, belt and shoes"),
    ],
)
def test_days_hours_and_lists_are_written_as_the_language_and_the_country_do(
    language: str, shop: str, day: str, year: str, clock: str, things: str
):
    words = translation.speech(language, shop)
    on = date(2026, 4, 14)

    assert (words.day(on), words.day_of_year(on)) == (day, year)
    assert words.clock(time(18)) == clock
    assert words.listed(["bag", "belt", "shoes"]) == things


@pytest.mark.parametrize(
    ("shop", "code", "expected"),
    [
        (Shop(), "", "6:00 PM"),
        (Shop(hours="24"), "", "18:00"),
        (Shop(locale="en_GB"), "", "18:00"),
        (Shop(locale="en_GB", hours="12"), "", "6:00 pm"),
        (Shop(locale="es_ES"), "en", "18:00"),
        (Shop(), "es", "6:00 p. m."),
        (Shop(locale="xx_YY"), "", "18:00"),
    ],
)
def test_all_of_a_shop_has_one_form_of_hours(shop: Shop, code: str, expected: str) -> None:
    assert translation.speech_at(shop, code).clock(time(18)).replace("\u00a0", " ") == expected


def test_an_hour_at_the_end_of_a_sentence_has_one_full_stop() -> None:
    words = translation.speech_at(Shop(), "es")
    said = words.say("They come off at {time}.", time=words.clock(time(18)))
    assert said.replace("\u00a0", " ") == "Quítatelas a las 6:00 p. m."


def test_minutes_are_counted_in_words():
    assert [translation.speech("en").minutes(n) for n in (1, 30)] == ["1 minute", "30 minutes"]
    assert [translation.speech("es").minutes(n) for n in (1, 30)] == ["1 minuto", "30 minutos"]


def test_an_unknown_language_is_english():
    assert translation.speech("tlh").code == "en"
    assert translation.speech("../../etc").code == "en"


def test_what_is_said_follows_the_language_of_whoever_is_served() -> None:
    with translation.speaking("es"):
        assert translation.say("At the foot") == "En el pie"
        with translation.speaking("en"):
            assert translation.say("At the foot") == "At the foot"
        assert translation.say("At the foot") == "En el pie"
    assert translation.say("At the foot") == "At the foot"


def test_the_language_before_comes_back_however_many_were_spoken_since() -> None:
    with translation.speaking("es"):
        before = translation.speak("de")
        translation.speak("en")
        assert translation.say("At the foot") == "At the foot"
        translation.speak_as_before(before)
        assert translation.say("At the foot") == "En el pie"


def test_a_label_made_at_the_start_is_said_in_the_language_of_the_moment() -> None:
    label = translation.say_later("At the foot")

    with translation.speaking("es"):
        assert str(label) == "En el pie"
    assert str(label) == "At the foot"


def test_a_number_of_things_has_its_own_form() -> None:
    def rounds(count: int) -> str:
        return translation.say_n("{count} round", "{count} rounds", count)

    assert [rounds(0), rounds(1), rounds(2)] == ["0 rounds", "1 round", "2 rounds"]
