"""E-mail addresses: one shape that is taken, and how one goes into a link that opens the phone's
own mail.
"""

from __future__ import annotations

import re
from urllib.parse import quote

from fitcounter.desk.common.translation import marked, say
from fitcounter.errors import BadInput
from fitcounter.store import settings
from fitcounter.store.database import Store

ACCOUNT = "mail"  # where the shop's choices hold its mail account
LONGEST = 254  # characters of a whole address (RFC 5321, 4.5.3.1.3, less its two brackets)
ADVICE = marked("Type the e-mail address, like name@example.org, or leave it empty.")
# No spaces, and none of the signs that begin a second address, a header or a coded sign in a link.
_SIDE = r"[^\s\x00-\x1f\x7f-\x9f@%,;:?<>()\[\]\"\\]+"
_SHAPE = re.compile(f"{_SIDE}@{_SIDE}")


def read_email(typed: str, field: str = "email") -> str:
    """A typed address; empty is none. Raises BadInput."""
    text = typed.strip()
    if text and not is_email(text):
        raise BadInput(say(ADVICE), typed=typed, field=field)
    return text


def is_email(text: str) -> bool:
    return len(text) <= LONGEST and _SHAPE.fullmatch(text) is not None


def in_link(address: str) -> str:
    """The address as it stands after mailto:, '' for what is none, whatever the file holds (RFC
    6068: all but the @ is coded).
    """
    return quote(address, safe="@") if is_email(address) else ""


def sender_of_shop(store: Store) -> str:
    """The address that the shop's e-mails come from, "" before it has a mail account."""
    held = settings.get(store, ACCOUNT)
    return str(held["sender"]) if held else ""
