"""A sheet of readings that stands open on a phone: twelve different readings on it, what a page has
lost of them, and how it is sent and saved again.
"""

from __future__ import annotations

import re
from html import unescape

import pytest
from support.cast import PASSPHRASE, Counter
from support.counter_forms import sheet, taken_in
from werkzeug.test import TestResponse

from fitcounter.desk.shop import Store

CELLS = {
    "gap_left_0": "3/8",
    "gap_right_0": "7/16",
    "boot_left_0": "12 7/8",
    "boot_right_0": "12 15/16",
    "gap_left_1": "5/8",
    "gap_right_1": "11/16",
    "boot_left_1": "13 5/8",
    "boot_right_1": "13 9/16",
    "gap_left_2": "1/2",
    "gap_right_2": "9/16",
    "boot_left_2": "14",
    "boot_right_2": "14 1/16",
}


def readings(**more: object) -> dict[str, object]:
    return {**sheet(), **CELLS, **more}


@pytest.fixture
def fit_id(counter: Counter) -> int:
    made = taken_in(counter)
    counter.get(f"/fits/{made}/measure")
    return made


def stored(store: Store) -> int:
    return int(
        store.value(
            "SELECT (SELECT count(*) FROM gap_readings) + (SELECT count(*) FROM boot_readings)"
        )
    )


def missing(answer: TestResponse) -> list[str]:
    """The readings that the page has lost, as fields that travel on and as words to read."""
    shown = {unescape(value) for value in re.findall(r'(?:value="|<dd>)([^"<]*)', answer.text)}
    return [text for text in CELLS.values() if text not in shown]


def carried(answer: TestResponse, action: str = "") -> dict[str, str]:
    """The hidden fields of the form that saves again."""
    form = next(
        one
        for one in re.findall(r"<form method=\"post\".*?</form>", answer.text, re.DOTALL)
        if 'name="gap_left_0"' in one
    )
    return {
        name: unescape(value)
        for name, value in re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form)
    }


def raw(counter: Counter, path: str, data: dict[str, object], **more: object) -> TestResponse:
    """Sends what an old page holds: its own token, and nobody signs in first."""
    return counter.client.post(path, data={"csrf_token": counter.token(), **data}, **more)


def save_again(counter: Counter, path: str, answer: TestResponse) -> TestResponse:
    return counter.client.post(path, data=carried(answer))


def sign_in_and_save(counter: Counter, answer: TestResponse) -> TestResponse:
    """From the page that says "signed out": through the door, to what was kept, one button."""
    door = re.search(r'href="(/sign-in\?kept=[^"]+)"', answer.text)
    assert door, answer.text
    page = counter.client.get(door.group(1))
    token = re.search(r'name="csrf_token" value="([^"]+)"', page.text)
    assert token
    typed = {"csrf_token": token.group(1), "initials": "CO", "passphrase": PASSPHRASE}
    there = counter.client.post(door.group(1), data=typed)
    assert there.status_code == 303
    kept = counter.client.get(there.location)
    assert kept.status_code == 200
    assert missing(kept) == []
    action = re.search(r'<form method="post" action="([^"]+)"', kept.text)
    assert action
    return counter.client.post(unescape(action.group(1)), data=carried(kept))
