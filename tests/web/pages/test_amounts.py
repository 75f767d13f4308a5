"""Sums, figures and lists on a page, as each language writes them."""

from __future__ import annotations

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import speaking, speech
from fitcounter.web.pages import amounts


def test_sums_follow_the_locale_and_the_minor_digits_of_the_currency() -> None:
    """Receipts show every digit; a row says $45 where there are no cents; yen have none to show."""
    assert money.say(15050, "USD") == "$150.50"
    assert money.say(-6000, "USD") == "−$60.00"
    assert amounts.owed(4500, "USD") == "$45"
    assert amounts.owed(4550, "USD") == "$45.50"
    assert amounts.owed(4500, "JPY") == "¥4,500"
    with speaking(speech("es_ES")):
        assert amounts.owed(4500, "EUR") == "45\u00a0€"
        assert money.say(123450, "EUR") == "1.234,50\u00a0€"


def test_a_figure_is_written_with_few_decimals() -> None:
    """A rounded figure carries no trailing noughts."""
    assert amounts.number(7.62) == "7.6"
    assert amounts.number(4.0) == "4"


def test_figures_shares_and_lists_are_written_as_spanish_does() -> None:
    with speaking(speech("es_ES")):
        assert amounts.number(7.62) == "7,6"
        assert amounts.percent(0.076, 1) == "7,6\u00a0%"
        assert amounts.listed(["20", "21", "22"]) == "20, 21 y 22"
