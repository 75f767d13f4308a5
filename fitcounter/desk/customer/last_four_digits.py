"""What opens with the last four digits of the customer's phone number: the page behind the short
code on paper, and what was agreed.
"""

from __future__ import annotations

import hmac
from datetime import datetime
from pathlib import Path

from fitcounter.desk.common.link_token import link_hash, link_key, link_token
from fitcounter.desk.common.translation import say
from fitcounter.errors import BadInput
from fitcounter.fit.tagcode import read_code
from fitcounter.store import customers, tickets
from fitcounter.store.database import Store, utc_text


def ticket_of_code(store: Store, typed: str, now: datetime) -> int | None:
    """The id of the ticket to which a typed code leads at `now`; None where it leads nowhere."""
    try:
        code = read_code(typed)
    except BadInput:
        return None
    ticket = tickets.by_code(store, link_hash(code))
    if ticket is None or ticket.link_revoked_at is not None:
        return None
    over = ticket.link_until is not None and ticket.link_until < utc_text(now)
    return None if over else ticket.id


def check(store: Store, ticket_id: int | None, typed: str, *, by_code: bool) -> int:
    """The id of the ticket, where the typed digits are the customer's.

    by_code: the code may be wrong too. Raises BadInput, with the same words whichever is wrong.
    """
    digits = "".join(one for one in typed if one.isascii() and one.isdigit())
    if len(digits) != 4:
        words = say("Type four digits: the last ones of your phone number.")
        raise BadInput(words, typed=typed, field="digits")
    known = customers.last_four(store, ticket_id) if ticket_id else ""
    if ticket_id is None or not hmac.compare_digest(known, digits):
        wrong = say("These are not the last four digits of the phone number that the shop has.")
        either = say("The code or the digits do not fit. Compare them with your paper, then call.")
        raise BadInput(either if by_code else wrong, typed=typed, field="digits")
    return ticket_id


def token_of(store: Store, ticket_id: int, data_dir: Path) -> str:
    """The token of the link that is open now. Raises NotAllowed."""
    series = tickets.link_series(store, ticket_id) or 1
    return link_token(link_key(data_dir), tickets.get(store, ticket_id), series)
