"""Passphrases and PINs: what is taken, how it is kept, how it is compared.

Kept as scrypt N = 2^15, r = 8, p = 3 (OWASP password storage cheat sheet: equal cost to 2^17, 8, 1
with less memory). A passphrase has at least 15 characters (NIST SP 800-63B-4 for a single factor;
OWASP ASVS 5.0 6.2.1) and no rule of composition; what many people pick, and what anybody in the
shop would guess, is refused (ASVS 6.2.4, 6.2.11). A PIN alone would fail 6.2.1: it counts only on a
phone that the shop has enrolled, after its 256-bit secret.
"""

from __future__ import annotations

import hashlib
import hmac
import re
import secrets
import threading
import unicodedata
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from itertools import pairwise

from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import BadInput, TooManyTries

LEAST_PASSPHRASE, MOST_PASSPHRASE = 15, 200
PIN_DIGITS = 6
POLICY = "scrypt:32768:8:3"  # N, r, p
AT_ONCE = 2  # hashes under way
MOST_WAITING = 2  # that wait for one to end
LONGEST_TURN_S = 1.0
BUSY = marked("Many people are signing in at this moment. Wait two seconds, then try again.")
_TURNS = threading.BoundedSemaphore(AT_ONCE)
_ROOM = threading.BoundedSemaphore(AT_ONCE + MOST_WAITING)
_LEAST_OWN = 8  # characters that must remain when all that can be guessed is taken out
_LEAST_KINDS = 5  # different characters

# What people write when a box asks for something long, and the words of this trade and house. From
# memory: common in every
# published list of leaked passwords; none of them is copied here.
_GUESSED = (
    "password",
    "passphrase",
    "passwort",
    "contrasena",
    "motdepasse",
    "letmein",
    "welcome",
    "iloveyou",
    "princess",
    "dragon",
    "monkey",
    "sunshine",
    "football",
    "baseball",
    "superman",
    "batman",
    "master",
    "shadow",
    "michael",
    "jennifer",
    "jordan",
    "qwerty",
    "qwertyuiop",
    "asdfghjkl",
    "zxcvbnm",
    "qwertz",
    "azerty",
    "qazwsx",
    "trustno",
    "changeme",
    "default",
    "administrator",
    "admin",
    "secret",
    "access",
    "login",
    "correct",
    "horse",
    "battery",
    "staple",
    "abcdefghijklmnopqrstuvwxyz",
    "abcdef",
    "onetwothree",
    "whatever",
    "mypassword",
    "ourpassword",
    "thepassword",
    "love",
    "money",
    "summer",
    "winter",
    "spring",
    "autumn",
    "monday",
    "friday",
    "fitcounter",
    "leather",
    "boots",
    "boot",
    "shop",
    "repair",
    "cobbler",
    "counter",
    "bench",
    "owner",
)
_ROWS = (
    "01234567890",
    "09876543210",
    "qwertyuiop",
    "asdfghjkl",
    "zxcvbnm",
    "abcdefghijklmnopqrstuvwxyz",
)


def hash_secret(secret: str) -> str:
    """A fresh salt, then scrypt."""
    salt = secrets.token_hex(16)
    return f"{POLICY}${salt}${_scrypt(secret, salt, POLICY)}"


def matches(secret: str, held: str) -> bool:
    """Takes the same time whether or not there is a hash to compare with."""
    method, salt, digest = [*held.split("$"), "", ""][:3]
    found = _scrypt(secret, salt or "nobody", method)
    return hmac.compare_digest(found, digest) and bool(digest)


def outdated(held: str) -> bool:
    """Was it hashed under another policy than today's?"""
    return not held.startswith(POLICY + "$")


def token_hash(token: str) -> str:
    """What is kept of a token of chance: its SHA-256, in hex."""
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def good_passphrase(
    passphrase: str, shop_words: Iterable[str] = (), field: str = "passphrase"
) -> str:
    """The passphrase as it was typed.

    shop_words: the shop's name, the person's. Raises BadInput.
    """
    if len(passphrase) < LEAST_PASSPHRASE:
        raise BadInput(
            say(
                "Too short. Type at least {least} characters; four plain words work well.",
                least=LEAST_PASSPHRASE,
            ),
            field=field,
        )
    if len(passphrase) > MOST_PASSPHRASE:
        raise BadInput(
            say("Too long. Type at most {most} characters.", most=MOST_PASSPHRASE), field=field
        )
    if _guessable(passphrase, shop_words):
        raise BadInput(
            say("Too easy to guess. Type four words that do not belong together."),
            field=field,
        )
    return passphrase


def good_pin(pin: str, field: str = "pin") -> str:
    """Six figures that are not a row or a repeat. Raises BadInput."""
    if not re.fullmatch(rf"[0-9]{{{PIN_DIGITS}}}", pin):
        raise BadInput(say("Type {digits} digits.", digits=PIN_DIGITS), field=field)
    steps = {(int(after) - int(before)) % 10 for before, after in pairwise(pin)}
    if len(steps) == 1 or len(set(pin)) < 3 or pin[:3] == pin[3:] or pin[:2] == pin[2:4] == pin[4:]:
        raise BadInput(say("Too easy to guess. Type another PIN."), field=field)
    return pin


def _guessable(passphrase: str, shop_words: Iterable[str]) -> bool:
    """Is there too little left of it without what everybody knows?"""
    left = _plain(passphrase)
    if len(set(left)) < _LEAST_KINDS:
        return True
    own = {
        part
        for word in shop_words
        for part in (_plain(word), *map(_plain, word.split()))
        if len(part) > 3
    }
    for word in sorted({*own, *_GUESSED}, key=len, reverse=True):
        left = left.replace(word, "")
    for row in _ROWS:
        for size in range(len(row), 3, -1):
            for start in range(len(row) - size + 1):
                left = left.replace(row[start : start + size], "")
    left = re.sub(r"(.{1,12}?)\1+", r"\1", left)  # the same again and again counts once
    return len(left) < _LEAST_OWN


def _plain(text: str) -> str:
    """Small letters and figures only, the usual figures for letters read as letters where letters
    stand around them.
    """
    text = unicodedata.normalize("NFKD", text).casefold()
    text = re.sub(
        r"(?<=[a-z])[01345$@](?=[a-z])",
        lambda found: "oleassa"["01345$@".index(found.group())],
        text,
    )
    return "".join(one for one in text if one.isalnum())


def _scrypt(secret: str, salt: str, method: str) -> str:
    """Raises nothing for a method it does not know: that compares as wrong under today's policy."""
    known = re.fullmatch(r"scrypt:\d{1,7}:\d{1,2}:\d{1,2}", method)
    n, r, p = (int(figure) for figure in (method if known else POLICY).split(":")[1:])
    with _turn():
        return hashlib.scrypt(
            secret.encode("utf-8", "surrogatepass"), salt=salt.encode(), n=n, r=r, p=p, maxmem=2**28
        ).hex()


@contextmanager
def _turn() -> Iterator[None]:
    """One hash at a time for each turn that there is, so that those who try to come in leave room
    for those who are in.

    Raises TooManyTries after a short wait, and at once where enough wait already: whoever waits
    holds a thread of the server.
    """
    if not _ROOM.acquire(blocking=False):
        raise TooManyTries(say(BUSY), wait_s=2)
    try:
        if not _TURNS.acquire(timeout=LONGEST_TURN_S):
            raise TooManyTries(say(BUSY), wait_s=2)
        try:
            yield
        finally:
            _TURNS.release()
    finally:
        _ROOM.release()
