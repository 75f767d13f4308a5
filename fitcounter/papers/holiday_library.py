"""Public holidays by the kept library `holidays` (MIT), which knows those of most countries; in a
process of its own, because it is large and seldom asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import holidays


def days_of(country: str, years: Sequence[int], language: str) -> list[tuple[date, str, str]]:
    """The public holidays of a whole country in order, each with its name and the language of that
    ("" where it is not known); none for a country that the library does not know.

    country: ISO 3166, two letters. language: as "es"; a name that is not kept in it comes in
    English, else in the country's own.
    """
    if country not in holidays.list_supported_countries(include_aliases=False):
        return []
    spoken = holidays.list_localized_countries(include_aliases=False).get(country, [])
    wanted = next((one for one in (language, "en_US", "en") if one in spoken), None)
    listed = holidays.country_holidays(country, years=years, language=wanted)
    named_in = (wanted or listed.default_language or "").partition("_")[0]
    return [(day, name, named_in) for day, name in sorted(listed.items())]
