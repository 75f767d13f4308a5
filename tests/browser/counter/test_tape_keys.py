"""Measure by the tape's keys: two taps a reading, the next height is up, and what was tapped is
what the plain form sends.
"""

from __future__ import annotations

import pytest
from browser.counter.fitter import LEFT, Fitter, Open

pytestmark = pytest.mark.browser


def test_a_reading_is_two_taps_and_the_next_height_is_up(fitter: Fitter) -> None:
    """Six heights of the left leg, lowest first, are twelve taps; then the right leg begins at its
    lowest.
    """
    assert fitter.at == "Left leg at 4½"
    for whole, part in LEFT:
        fitter.read(whole, part)
    assert fitter.taps == 12
    assert [fitter.value(f"leg_left_{row}") for row in range(6)] == [
        "9 5/8",
        "11",
        "13 3/8",
        "15 1/2",
        "16 1/4",
        "15 1/8",
    ]
    assert fitter.at == "Right leg at 4½"


def test_a_sixteenth_is_one_tap_more(fitter: Fitter) -> None:
    """The key 16ths turns the fractions into odd sixteenths for one reading."""
    fitter.tap('[data-pad] [data-act="odd"]')
    fitter.read(9, "11/16")
    assert fitter.value("leg_left_0") == "9 11/16"
    assert fitter.page.locator('[data-pad] [data-part="1/8"]').count() == 1


def test_the_keys_write_what_the_plain_form_sends(fitter: Fitter) -> None:
    """What was tapped arrives at the server under the names of the plain sheet."""
    fitter.read(9, "5/8")
    with fitter.page.expect_request("**/measure") as sent:
        fitter.tap("[data-go]")
    body = sent.value.post_data or ""
    assert "leg_left_0=9+5%2F8" in body
    assert "height_0=4+1%2F2" in body
    assert "submission_id=a-submission" in body


def test_the_entry_shows_the_other_unit(fitter: Fitter) -> None:
    """16¼ in is echoed as 41.3 cm while it is the one being read."""
    fitter.page.keyboard.type("16 1/4")
    assert fitter.page.locator("[data-value]").inner_text() == "16¼ in"
    assert fitter.page.locator("[data-echo]").inner_text() == "41.3 cm"


def test_centimetres_are_two_taps_too_and_inches_that_were_read_stay_inches(fitter: Fitter) -> None:
    """Changing the tape changes the keys, and every reading keeps the unit it was read in."""
    fitter.read(9, "5/8")
    fitter.page.get_by_label("centimetres").check()
    fitter.page.locator('[name="leg_left_1"]').tap()
    fitter.read(28, ".3")
    assert fitter.value("leg_left_0") == '9 5/8"'
    assert fitter.value("leg_left_1") == "28.3"


def test_a_leg_wider_than_the_likely_numbers_is_typed_from_all_digits(fitter: Fitter) -> None:
    """The key 0–9 gives every digit; the next heights then begin where this leg is."""
    fitter.page.locator('[name="leg_left_4"]').tap()
    fitter.tap('[data-foot] [data-act="digits"]')
    fitter.tap('[data-pad] [data-whole="2"]')
    fitter.read(3, "1/2")
    assert fitter.value("leg_left_4") == "23 1/2"
    assert fitter.page.locator('[data-pad] [data-whole="23"]').count() == 1


def test_back_takes_one_step_back(fitter: Fitter) -> None:
    """First the fraction goes, then the number, then the height before is up again."""
    fitter.read(9, "5/8")
    fitter.page.locator('[name="leg_left_0"]').tap()
    fitter.tap('[data-pad] [data-act="back"]')
    assert fitter.value("leg_left_0") == "9"
    fitter.tap('[data-pad] [data-part="3/4"]')
    assert fitter.value("leg_left_0") == "9 3/4"
    fitter.tap('[data-pad] [data-act="back"]')
    assert fitter.at == "Left leg at 4½"


def test_the_whole_pair_at_three_heights_is_within_its_budget(fitter: Fitter) -> None:
    """Three heights of both legs are twelve taps of two, whichever height is begun with; the sheet
    counts what is read.
    """
    left, right = ((13, "3/8"), (16, "1/4"), (15, "1/8")), ((13, "1/2"), (16, "3/8"), (15, "1/8"))
    for side, leg in (("left", left), ("right", right)):
        for row, (whole, part) in zip((2, 4, 5), leg, strict=True):
            fitter.page.locator(f'[name="leg_{side}_{row}"]').tap()
            fitter.read(whole, part)
    assert fitter.taps == 12
    assert fitter.slip is None
    assert "6 of 12 measured" in fitter.page.locator("[data-go]").inner_text()


def test_a_single_reading_gets_the_keys_when_it_is_touched(same_page: Open, site: str) -> None:
    """At the bench the keys come with the field, wholly in view, and begin near the last girth."""
    fitter = Fitter(same_page(f"{site}/bench"))
    assert not fitter.page.locator("[data-pad]").is_visible()
    fitter.page.locator("#girth").tap()
    fitter.page.wait_for_function(
        "document.querySelector('[data-go]').getBoundingClientRect().bottom <= innerHeight"
    )
    assert fitter.page.locator("[data-pad] button").first.inner_text() == "5", (
        "300 mm are 11.8 in: 5 to 14"
    )
    fitter.read(14, "5/8")
    assert fitter.value("girth") == "14 5/8"


def test_on_a_rotated_phone_the_keys_stand_beside_the_field(same_page: Open, site: str) -> None:
    """780 by 360: the field, every key and the next step are wholly in view, none over another."""
    page = same_page(f"{site}/bench", viewport={"width": 780, "height": 360})
    page.locator("#girth").tap()
    page.wait_for_function("document.querySelector('#girth').getBoundingClientRect().bottom < 360")
    field, pad, go = (page.locator(one).bounding_box() for one in ("#girth", ".entry", "[data-go]"))
    assert field
    assert pad
    assert go
    assert field["y"] >= 0
    assert field["x"] + field["width"] <= pad["x"], "beside, not behind"
    assert pad["x"] + pad["width"] <= 780
    assert go["y"] + go["height"] <= 360
    keys = page.locator("[data-pad] button")
    tops = keys.evaluate_all("all => all.map((one) => one.getBoundingClientRect().top)")
    heights = keys.evaluate_all("all => all.map((one) => one.getBoundingClientRect().height)")
    assert len(tops) == 20
    assert min(tops) >= 0
    assert min(heights) >= 48
    assert page.evaluate("document.documentElement.scrollWidth") == 780


def test_a_nought_among_the_parts_is_the_whole_inch_in_words(fitter: Fitter) -> None:
    """The pad has no second 0: eleven and no part is 11, whole."""
    whole = fitter.page.get_by_role("button", name="whole inch", exact=True)
    assert whole.inner_text() == "whole"
    assert "0" not in fitter.page.locator("[data-pad] button").all_inner_texts()
    fitter.tap('[data-pad] [data-whole="11"]')
    whole.tap()
    assert fitter.value("leg_left_0") == "11"


def test_a_hardware_keyboard_and_a_scanner_end_a_single_reading_with_enter(
    same_page: Open, site: str
) -> None:
    """What is a length is sent as it is; a tag that was scanned into the field stays there, and the
    panel says what to type.
    """
    page = same_page(f"{site}/bench")
    page.evaluate("document.addEventListener('submit', () => { window.tries = 1 })")
    page.locator("#girth").tap()
    page.keyboard.type("7K3M9QXWE")
    page.keyboard.press("Enter")
    assert page.evaluate("window.tries") is None, "nothing was sent"
    assert "such as 16 1/4" in page.locator("[data-echo]").inner_text()
    page.locator("#girth").fill("")
    page.keyboard.type("14 5/8")
    with page.expect_request(lambda sent: sent.method == "POST") as sent:
        page.keyboard.press("Enter")
    assert "girth=14+5%2F8" in (sent.value.post_data or "")


def test_without_script_the_sheet_is_plain_fields(same_page: Open, site: str) -> None:
    """Every cell has a name and a label, and one button sends them."""
    page = same_page(f"{site}/measure", java_script_enabled=False)
    assert page.get_by_label("Left leg at 4 1/2").get_attribute("name") == "leg_left_0"
    assert page.locator("[data-pad]").is_hidden()
    assert page.get_by_role("button").count() == 1
