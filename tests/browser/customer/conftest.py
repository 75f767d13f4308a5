"""A phone of each language for a whole file of tests, and on it a new customer for each test."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from browser.customer.their_phone import LOCALES, Theirs
from browser.customer.wear_cast import Phones, their_phones
from playwright.sync_api import Browser


@pytest.fixture(scope="module")
def phones(
    chromium: Browser, new_shop: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Phones]:
    with their_phones(chromium, new_shop, tmp_path_factory.mktemp("phones")) as made:
        yield made


@pytest.fixture(params=LOCALES)
def their(request: pytest.FixtureRequest, phones: Phones) -> Iterator[Theirs]:
    with phones.customer(request.param) as made:
        yield made
