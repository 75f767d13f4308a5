"""Phone numbers: kept as they were said, and once more as a machine can compare them.

E.164 is the ITU-T recommendation for numbers with their country; what a number means without one
follows the shop's country.
"""

from __future__ import annotations

import re
from typing import NamedTuple
from urllib.parse import quote

import phonenumbers

from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import BadInput

_SHAPE = re.compile(
    r"\+?[0-9 ()./\u00a0\u2010-\u2013-]{3,36}(?: ?(?:x|ext\.?) ?[0-9]{1,6})?", re.IGNORECASE
)
_MOST_DIGITS = 20
ADVICE = marked("Type the phone number, like (555) 010-0142, or leave it empty.")


class Phone(NamedTuple):
    """typed: as said.

    e164: '' where it cannot be told. last4: the last four digits before any extension.
    """

    typed: str = ""
    e164: str = ""
    last4: str = ""


def read_phone(typed: str, country: str, field: str = "phone") -> Phone:
    """A typed number; empty is no number. country: two letters, ISO 3166-1. Raises BadInput."""
    text = typed.strip()
    if not text:
        return Phone()
    main = re.split(r"(?i) ?(?:x|ext)", text)[0]
    digits = "".join(one for one in main if one.isascii() and one.isdigit())
    if not _SHAPE.fullmatch(text) or not 4 <= len(digits) <= _MOST_DIGITS:
        raise BadInput(say(ADVICE), typed=typed, field=field)
    return Phone(text, _e164(main, country), digits[-4:])


def sms_link(phone: str, words: str) -> str:
    """The address that opens a phone's own texts with the words filled in, "" without a number.

    `?&body=`: Android reads what follows the question mark, iPhones what follows the ampersand (RFC
    5724 has only the first). phone: E.164, or as typed; an extension takes no texts.
    """
    main = re.split(r"(?i) ?(?:x|ext)", phone)[0]
    number = "".join(one for one in main if one == "+" or (one.isascii() and one.isdigit()))
    return f"sms:{quote(number, safe='+')}?&body={quote(words, safe='')}" if number else ""


def tel_uri(typed: str, country: str) -> str:
    """A number with its country as a URI (RFC 3966), "" where its country cannot be told."""
    number = _e164(re.split(r"(?i) ?(?:x|ext)", typed)[0], country)
    return f"tel:{number}" if number else ""


def is_country(code: str) -> bool:
    """Two letters whose way of writing numbers is known."""
    return code in phonenumbers.SUPPORTED_REGIONS


def _e164(main: str, country: str) -> str:
    try:
        number = phonenumbers.parse(main, country)
    except phonenumbers.NumberParseException:
        return ""
    if (
        phonenumbers.is_possible_number_with_reason(number)
        != phonenumbers.ValidationResult.IS_POSSIBLE
    ):  # a local one is not the whole number
        return ""
    return str(phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164))
