"""The public holidays of a country, from the library that keeps them."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from importlib import import_module

from fitcounter.papers.own_process import LISTS

Listed = list[tuple[date, str, str]]  # day, name, language of the name


@lru_cache(maxsize=8)
def days_of(country: str, years: tuple[int, ...], language: str) -> Listed:
    """`holiday_library.days_of`, in the process of such lists. Raises Unavailable."""
    return LISTS.do(_days_of, country, years, language)


def _days_of(country: str, years: tuple[int, ...], language: str) -> Listed:
    """In that process, where alone the library is loaded."""
    listed: Listed = import_module("fitcounter.papers.holiday_library").days_of(
        country, years, language
    )
    return listed
