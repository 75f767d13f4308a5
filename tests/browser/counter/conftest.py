"""The sample pages on an address, and a fitter before their measuring sheet."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from browser.counter.fitter import Fitter, Open
from browser.pages.sample_pages import sample_site


@pytest.fixture(scope="module")
def site() -> Iterator[str]:
    with sample_site() as address:
        yield address


@pytest.fixture
def fitter(same_page: Open, site: str) -> Fitter:
    return Fitter(same_page(f"{site}/measure"))
