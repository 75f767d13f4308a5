"""Measure: what looks like a slip of the tape is asked about at once, beside the entry, and either
answer goes on.
"""

from __future__ import annotations

import pytest
from browser.counter.fitter import LEFT, Fitter, Open

pytestmark = pytest.mark.browser


def test_an_inch_slip_is_asked_at_once_and_either_answer_goes_on(fitter: Fitter) -> None:
    """Alike elsewhere and an inch apart here: the question stands beside the entry with both
    readings as buttons.
    """
    for whole, part in (*LEFT, (9, "5/8"), (11, "1/8"), (14, "1/2")):
        fitter.read(whole, part)
    assert fitter.slip == "One inch off the left, the same elsewhere. Which is right?"
    assert fitter.page.locator("[data-go]").inner_text().startswith("Measure again")
    fitter.page.get_by_role("button", name="13½", exact=True).tap()
    assert fitter.value("leg_right_2") == "13 1/2"
    assert fitter.slip is None
    assert fitter.at == "Right leg at 10½"


def test_a_slip_that_was_kept_is_not_asked_again(fitter: Fitter) -> None:
    """Keep it is an answer: the reading stays as typed, and coming back to it asks nothing."""
    for whole, part in (*LEFT, (9, "5/8"), (11, "1/8"), (14, "1/2")):
        fitter.read(whole, part)
    fitter.page.get_by_role("button", name="14½", exact=True).tap()
    fitter.page.locator('[name="leg_right_2"]').tap()
    fitter.page.keyboard.press("Enter")
    assert fitter.slip is None
    assert fitter.value("leg_right_2") == "14 1/2"


def test_read_it_again_takes_the_doubtful_number_away_and_sends_nothing(fitter: Fitter) -> None:
    """The next step turns into reading it again: the field is empty, and the same height is still
    up.
    """
    for whole, part in (*LEFT, (9, "5/8"), (11, "1/8"), (14, "1/2")):
        fitter.read(whole, part)
    fitter.tap("[data-go]")
    assert fitter.value("leg_right_2") == ""
    assert fitter.at == "Right leg at 8½"
    assert fitter.page.url.endswith("/measure")


def test_a_number_of_the_other_unit_is_asked(fitter: Fitter) -> None:
    """40 on an inch tape: inches or centimetres? The answer carries its unit."""
    fitter.page.keyboard.type("40")
    fitter.page.keyboard.press("Enter")
    assert fitter.slip == "Inches or centimeters?"
    fitter.page.get_by_role("button", name="40.0 cm").tap()
    assert fitter.value("leg_left_0") == "40 cm"


def test_two_legs_that_read_the_same_everywhere_are_asked_about(fitter: Fitter) -> None:
    """Three heights alike on both legs: was one copied? The last answer keeps them."""
    for side in ("left", "right"):
        for row in (0, 1, 2):
            fitter.page.locator(f'[name="leg_{side}_{row}"]').tap()
            fitter.read(*LEFT[row])
    assert fitter.slip == "Left and right are the same everywhere. Measured twice? Keep this?"


def test_legs_that_differ_everywhere_are_not_taken_for_an_inch_slip(fitter: Fitter) -> None:
    """One leg is fuller all along: the question is the plain one, as on the server."""
    for row, (whole, part) in enumerate(LEFT[:3]):
        fitter.page.locator(f'[name="leg_left_{row}"]').tap()
        fitter.read(whole, part)
    for row, (whole, part) in enumerate(((10, "1/4"), (11, "5/8"), (14, "7/8"))):
        fitter.page.locator(f'[name="leg_right_{row}"]').tap()
        fitter.read(whole, part)
    assert fitter.slip == "Left and right differ by 1 1/2. Measure again, or keep this?"


def test_a_second_reading_that_differs_is_asked(same_page: Open, site: str) -> None:
    """Half an inch off the first reading: both stand to choose from."""
    fitter = Fitter(same_page(f"{site}/measure?leg_left_3=15+1/2&again=leg_left_3_2"))
    assert fitter.at == "Left leg at 10½, reading 2", "what was asked for is up first"
    fitter.read(16, "0")
    assert fitter.slip == "Not the same as the first reading. Which is right?"


def test_what_cannot_be_read_says_what_to_type(fitter: Fitter) -> None:
    """The sentence of the parser stands beside the entry, and Enter does not go on."""
    fitter.page.keyboard.type("145/8")
    fitter.page.keyboard.press("Enter")
    assert (
        fitter.page.locator("[data-echo]").inner_text()
        == "The fraction is less than one: leave a space after the whole number, as in 14 5/8."
    )
    assert fitter.at == "Left leg at 4½"


def test_a_single_number_of_the_other_unit_is_asked_before_it_is_sent(
    same_page: Open, site: str
) -> None:
    """A bare 37 among inches: Save asks, one tap answers, and the cursor is at Save."""
    page = same_page(f"{site}/bench")
    page.locator("#girth").tap()
    page.keyboard.type("37")
    page.locator("[data-go]").tap()
    assert page.locator("[data-slip] p").inner_text() == "Inches or centimeters?"
    page.get_by_role("button", name="37.0 cm").tap()
    assert page.locator("#girth").input_value() == "37 cm"
    assert page.locator("[data-slip]").is_hidden()
    assert page.locator("[data-go]").evaluate("e => e === document.activeElement")
