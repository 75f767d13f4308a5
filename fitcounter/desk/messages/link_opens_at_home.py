"""The link of the customer's page goes out only where it opens at their home: whether the shop has
such an address, and the link as it goes into a message.
"""

from __future__ import annotations

import ipaddress
from datetime import datetime
from pathlib import Path
from urllib.parse import urlsplit

from fitcounter.desk.common.link_token import link_of
from fitcounter.store import tickets
from fitcounter.store.database import Store, utc_text

# Names that only a shop's own network knows (RFC 6761, 6762, 8375, and what routers hand out).
AT_HOME = (
    *(".local", ".localhost", ".localdomain", ".lan", ".home", ".internal", ".home.arpa"),
    *(".intranet", ".private", ".test", ".invalid"),
)


def is_reachable(base_url: str) -> bool:
    """Whether a customer's phone at home can open this address, and nobody on the way reads it.

    HTTPS, and a name or a number of the internet: no name of a network of one's own.
    """
    parts = urlsplit(base_url)
    name = (parts.hostname or "").rstrip(".")
    if parts.scheme != "https" or not name:
        return False
    try:
        return ipaddress.ip_address(name).is_global
    except ValueError:
        return "." in name and not name.endswith(AT_HOME)


def link_to_send(store: Store, ticket_id: int, base_url: str, data_dir: Path, now: datetime) -> str:
    """The address of the customer's page as it goes into a message at `now` (aware).

    "" where the shop has no address that opens at the customer's home, and for a link that opens
    nothing: none yet, switched off, or over. Raises NotFound, NotAllowed.
    """
    ticket = tickets.get(store, ticket_id)
    over = ticket.link_until is not None and ticket.link_until < utc_text(now)
    if not is_reachable(base_url) or ticket.link_revoked_at is not None or over:
        return ""
    return link_of(store, ticket, base_url, data_dir) or ""
