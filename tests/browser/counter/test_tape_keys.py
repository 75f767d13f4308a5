"""Measure: two taps a reading, slips asked at once, and the same grammar on the phone as on the
server.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Any

import pytest
from browser.pages.sample_pages import sample_site
from playwright.sync_api import Page
from support.paths import REFERENCE

from fitcounter.errors import BadReading
from fitcounter.fit.tape import parse_length

pytestmark = pytest.mark.browser
Open = Callable[..., Page]
CASES = json.loads((REFERENCE / "tape_cases.json").read_text(encoding="utf-8"))["cases"]
PARSE = """async (asked) => {
  const { parse } = await import('/static/js/tape.js');
  return asked.map(([text, unit, zeroOk]) => {
    try {
      const { over, under, unit: own, text: kept } = parse(text, unit, zeroOk);
      return [String(over), String(under), own, kept];
    } catch (error) { return error.message; }
  });
}"""


@pytest.fixture(scope="module")
def site() -> Iterator[str]:
    with sample_site() as address:
        yield address


class Fitter:
    """Taps as a fitter does, and counts them."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.taps = 0

    def tap(self, selector: str) -> None:
        self.taps += 1
        self.page.locator(selector).tap()

    def read(self, whole: int, part: str) -> None:
        self.tap(f'[data-pad] [data-whole="{whole}"]')
        self.tap(f'[data-pad] [data-part="{part}"]')

    def value(self, name: str) -> str:
        return self.page.locator(f'[name="{name}"]').input_value()

    @property
    def at(self) -> str:
        return self.page.locator("[data-label]").inner_text()

    @property
    def slip(self) -> str | None:
        slip = self.page.locator("[data-slip]")
        return slip.locator("p").inner_text() if slip.is_visible() else None


LEFT = ((9, "5/8"), (11, "0"), (13, "3/8"), (15, "1/2"), (16, "1/4"), (15, "1/8"))


@pytest.fixture
def fitter(same_page: Open, site: str) -> Fitter:
    return Fitter(same_page(f"{site}/measure"))


def server_says(text: str, unit: str, zero_ok: bool) -> list[str] | str:
    try:
        length = parse_length(text, unit, zero_ok=zero_ok)
    except BadReading as error:
        return error.sentence
    return [str(length.mm), length.unit, length.text]


def same(asked: list[tuple[str, str, bool]], answers: list[Any]) -> list[object]:
    """Where phone and server differ: in length, unit, kept text or sentence."""
    differ: list[object] = []
    for (text, unit, zero_ok), answer in zip(asked, answers, strict=True):
        phone = (
            answer
            if isinstance(answer, str)
            else [str(Fraction(int(answer[0]), int(answer[1]))), *answer[2:]]
        )
        server = server_says(text, unit, zero_ok)
        if phone != server:
            differ.append((text, unit, phone, server))
    return differ


def test_the_phone_reads_every_published_spelling_as_the_server_does(
    same_page: Open, site: str
) -> None:
    """Every case of tape_cases.json: same exact length or a refusal, and the same sentence."""
    page = same_page(f"{site}/offline")
    asked = [(case["input"], case["unit"], bool(case.get("zero_ok"))) for case in CASES]
    answers = page.evaluate(PARSE, asked)
    wrong = []
    for case, answer in zip(CASES, answers, strict=True):
        read = None if isinstance(answer, str) else Fraction(int(answer[0]), int(answer[1]))
        if read != (None if case["expected"] is None else Fraction(case["expected"])):
            wrong.append((case, answer))
    assert wrong == []
    assert same(asked, answers) == []


def test_phone_and_server_agree_on_whatever_a_finger_may_type(same_page: Open, site: str) -> None:
    """4,000 strings out of the signs of a tape and some that are none, seeded: the same length or
    the same sentence.
    """
    chance = random.Random(19)
    signs = "0123456789" * 3 + "  //-..,,''\"¼½¾⅛⅜⅝⅞⅓inINcmCMmm\u00a0\u2044\u2009\u200e\u202fx−٣²\n"
    texts = [
        "".join(chance.choice(signs) for _ in range(chance.randint(0, 9))) for _ in range(4000)
    ]
    asked = [(text, chance.choice(("in", "cm", "mm")), chance.random() < 0.3) for text in texts]
    page = same_page(f"{site}/offline")
    assert same(asked, page.evaluate(PARSE, asked)) == []


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


def test_what_cannot_be_read_says_what_to_type(fitter: Fitter) -> None:
    """The sentence of the parser stands beside the entry, and Enter does not go on."""
    fitter.page.keyboard.type("145/8")
    fitter.page.keyboard.press("Enter")
    assert (
        fitter.page.locator("[data-echo]").inner_text()
        == "The fraction is less than one: leave a space after the whole number, as in 14 5/8."
    )
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
