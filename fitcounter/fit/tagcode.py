"""The code on a tag: eight characters of Douglas Crockford's base 32, and one check character by
ISO/IEC 7064 MOD 37,2.

MOD 37,2 finds every single wrong character and every swap of neighbours. Its own alphabet has five
signs that base 32 leaves out on purpose (I, L, O, U and *), so a code whose check character would
be one of them is drawn again: what is printed can then be typed on any keyboard and read aloud. Not
a secret: it opens nothing for a stranger.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from fitcounter.errors import BadInput, message

ALPHABET: Final = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
CHECK_ALPHABET: Final = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
BODY: Final = 8
_READ_AS: Final = str.maketrans("OIL", "011")
_DROPPED: Final = str.maketrans(
    "", "", " \t\n\r\u00a0\u202f\u2009-\u2010\u2011\u2012\u2013\u2014\u2212"
)
_ADVICE: Final = message("Type the nine letters and numbers on the tag, like 7K3M-9QXW-E.")


def check_character(body: str) -> str:
    """The ISO/IEC 7064 MOD 37,2 check character of a text over 0-9, A-Z (itself one of 0-9, A-Z,
    *).
    """
    total = 0
    for character in body:
        total = (total + CHECK_ALPHABET.index(character)) * 2 % 37
    return CHECK_ALPHABET[(1 - total) % 37]


def new_code(random_bytes: Callable[[int], bytes]) -> str:
    """A new code of nine characters without dashes.

    random_bytes: gives that many random bytes each time it is called (secrets.token_bytes at the
    edge); five bytes are eight characters, and about one draw in seven is thrown away for its check
    character.
    """
    while True:
        drawn = int.from_bytes(random_bytes(5), "big")
        body = "".join(ALPHABET[drawn >> 5 * place & 31] for place in reversed(range(BODY)))
        check = check_character(body)
        if check in ALPHABET:
            return body + check


def read_code(typed: str) -> str:
    """The code behind what was typed or scanned, nine characters without dashes.

    A scanned address counts by what stands after its last slash. Small letters, spaces and dashes
    do not matter; O is read as 0, I and L as 1. Raises BadInput when it cannot be a code or its
    check character does not fit.
    """
    last = typed.strip().rstrip("/").rsplit("/", 1)[-1].translate(_DROPPED)
    code = last.upper().translate(_READ_AS) if last.isascii() else last
    if len(code) != BODY + 1 or any(character not in ALPHABET for character in code):
        raise BadInput(_ADVICE, typed=typed, field="code")
    if check_character(code[:BODY]) != code[BODY]:
        raise BadInput(
            message("One character of this code is not as on the tag. {advice}", advice=_ADVICE),
            typed=typed,
            field="code",
        )
    return code


def show_code(code: str) -> str:
    """A code as it is printed and read aloud: 7K3M-9QXW-E."""
    return f"{code[:4]}-{code[4:8]}-{code[8:]}"


def tag_address(site: str, code: str) -> str:
    """The address in the square, in capitals so that it needs the smallest square.

    site: scheme and host, without a path ("https://bench.example"). The page behind it is matched
    without case.
    """
    return f"{site.rstrip('/')}/t/{code}".upper()
