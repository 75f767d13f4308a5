"""What is typed as a length means the same on the phone as on the server: every published spelling,
and whatever a finger may type.
"""

from __future__ import annotations

import json
import random
from fractions import Fraction
from typing import Any

import pytest
from browser.counter.fitter import Open
from support.paths import REFERENCE

from fitcounter.errors import BadReading
from fitcounter.fit.tape import parse_length

pytestmark = pytest.mark.browser
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
