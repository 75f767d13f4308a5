"""The customer's own link: 128 bits that nobody can guess, made again from the shop's key whenever
the paper is printed.

Only the hash is stored. The token is the start of an HMAC-SHA-256 (RFC 2104) over the ticket, keyed
with a key that lies with the data, apart from the shop's file; whoever has the file alone cannot
make it.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import itertools
import json
from pathlib import Path

from fitcounter.fit.tagcode import new_code, show_code
from fitcounter.settings import load_keys
from fitcounter.store import tickets
from fitcounter.store.database import Store
from fitcounter.store.records import Ticket

TOKEN_BYTES = 16
LINK_DAYS = 400  # until pickup sets the end anew: long enough for any job, and never for ever


def link_key(data_dir: Path) -> bytes:
    """The key of the links, told apart from the other uses of the key it is made from.

    Raises NotAllowed.
    """
    return hashlib.sha256(b"customer link\0" + load_keys(data_dir).csrf_key.encode()).digest()


def link_token(key: bytes, ticket: Ticket, series: int = 1) -> str:
    """22 characters that may stand in an address. series: which of the ticket's links, from 1."""
    said = json.dumps(
        ["customer link", ticket.id, ticket.opened_at, *([series] if series > 1 else [])]
    ).encode()
    digest = hmac.new(key, said, hashlib.sha256).digest()[:TOKEN_BYTES]
    return base64.urlsafe_b64encode(digest).rstrip(b"=").decode("ascii")


def link_code(key: bytes, ticket: Ticket, series: int = 1) -> str:
    """Nine letters and numbers, without dashes, that lead to the same page from paper: short enough
    to be typed, so they open it only with the last digits of the customer's phone number.
    """
    said = json.dumps(["customer code", ticket.id, ticket.opened_at, series]).encode()
    draws = itertools.count()

    def drawn(size: int) -> bytes:
        return hmac.new(key, said + b" %d" % next(draws), hashlib.sha256).digest()[:size]

    return new_code(drawn)


def share_token(key: bytes, ticket: Ticket, series: int) -> str:
    """As link_token, for a page that can be looked at and nothing else."""
    said = json.dumps(["shared page", ticket.id, ticket.opened_at, series]).encode()
    digest = hmac.new(key, said, hashlib.sha256).digest()[:TOKEN_BYTES]
    return base64.urlsafe_b64encode(digest).rstrip(b"=").decode("ascii")


def link_hash(token: str) -> str:
    """What is stored of a token, and of a code."""
    return hashlib.sha256(token.encode()).hexdigest()


def link_hashes(key: bytes, ticket: Ticket, series: int = 1) -> dict[str, str]:
    """The columns of a ticket that find it by one of its links."""
    return {
        "link_hash": link_hash(link_token(key, ticket, series)),
        "link_code_hash": link_hash(link_code(key, ticket, series)),
    }


def link_of(store: Store, ticket: Ticket, base_url: str, data_dir: Path) -> str | None:
    """The address of the customer's page, None before the ticket has one and after it was taken
    back. Raises NotAllowed.
    """
    series = tickets.link_series(store, ticket.id)
    if series is None:
        return None
    return f"{base_url.rstrip('/')}/c/{link_token(link_key(data_dir), ticket, series)}"


def typed_address(store: Store, ticket: Ticket, base_url: str, data_dir: Path) -> str:
    """The address to type where a code cannot be scanned, without "https://"; "" where nothing
    opens by it: no link, one from before there were codes, or no phone number to ask for.
    """
    series = tickets.link_series(store, ticket.id)
    if series is None or not tickets.opens_by_code(store, ticket.id):
        return ""
    code = show_code(link_code(link_key(data_dir), ticket, series))
    return f"{base_url.rstrip('/').partition('://')[2]}/b/{code}"
