"""The address of a customer's page as it goes into messages."""

from __future__ import annotations

from pathlib import Path

from flask import current_app, g

from fitcounter.desk.messages.link_opens_at_home import is_reachable, link_to_send
from fitcounter.desk.messages.link_text import LinkText, link_text
from fitcounter.web.guards.access import store, the_shop


def to_send(ticket_id: int) -> str:
    """The link of this ticket, "" where none opens for the customer at home."""
    settings = current_app.config["SETTINGS"]
    if not the_shop().send_link:
        return ""
    return link_to_send(store(), ticket_id, settings.base_url, Path(settings.data_dir), g.now)


def text_of(ticket_id: int) -> LinkText | None:
    """The message that brings the link, None where there is none to bring."""
    return link_text(store(), the_shop(), ticket_id, to_send(ticket_id), the_shop().today(g.now))


def sends() -> bool:
    """Whether links go into messages at all: the shop's choice, and an address that opens."""
    return the_shop().send_link and not own_address()


def own_address() -> str:
    """The shop's own address where customers cannot reach it, "" where they can."""
    base_url = str(current_app.config["SETTINGS"].base_url)
    return "" if is_reachable(base_url) else base_url


def at_home(address: str) -> str:
    """The address of a customer's page as their calendar has it, "" where it opens here only."""
    return "" if own_address() else address
