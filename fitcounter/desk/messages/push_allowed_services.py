"""Whether the shop sends messages to phones, through which services, and what a phone may name as
its own: HTTPS, and a host on the owner's list.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.messages.link_opens_at_home import AT_HOME, is_reachable
from fitcounter.desk.shop import Act, Store, Written
from fitcounter.errors import BadInput
from fitcounter.settings import load_keys
from fitcounter.store import settings

KEY = "push"
# The services of the browsers, with what each maker says of them. A name stands for itself and for
# all below it.
KNOWN = {
    "fcm.googleapis.com": "https://web.dev/articles/push-notifications-web-push-protocol",
    "push.apple.com": (
        "https://developer.apple.com/documentation/usernotifications/"
        "sending-web-push-notifications-in-web-apps-and-browsers"
    ),
    "push.services.mozilla.com": "https://mozilla-services.github.io/autopush-rs/http.html",
    "notify.windows.com": (
        "https://learn.microsoft.com/en-us/windows/apps/develop/notifications/"
        "push-notifications/firewall-allowlist-config"
    ),
}
WHOSE = {
    "fcm.googleapis.com": marked("Chrome, and most Android phones"),
    "push.apple.com": marked("iPhones, iPads and Safari"),
    "push.services.mozilla.com": marked("Firefox"),
    "notify.windows.com": marked("Edge on Windows"),
}
MOST_HOSTS = 20
_NAME = re.compile(r"(?=.{4,200}\Z)([a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?\.)+[a-z][a-z0-9-]*[a-z0-9]")
_ENDPOINT = re.compile(r"https://([a-z0-9.-]{4,200})(?::443)?/[!-~]{1,1500}")
NOT_LISTED = marked("This phone’s message service is not on the shop’s list, so it was not saved.")


class PushChoice(NamedTuple):
    """on: whether messages go to phones. hosts: of the services they may go through."""

    on: bool = False
    hosts: tuple[str, ...] = tuple(KNOWN)


def of_shop(store: Store) -> PushChoice:
    held = settings.get(store, KEY)
    return PushChoice(bool(held["on"]), tuple(held["hosts"])) if held else PushChoice()


def keep(store: Store, act: Act, typed_hosts: str, base_url: str, *, on: bool) -> Written:
    """Keeps the choice. typed_hosts: one on each line. Raises BadInput."""
    hosts = tuple(dict.fromkeys(_read(line) for line in typed_hosts.split()))
    if len(hosts) > MOST_HOSTS:
        raise BadInput(say("Type at most {count} names.", count=MOST_HOSTS), field="hosts")
    if on and not hosts:
        raise BadInput(say("Type at least one name, or switch messages off."), field="hosts")
    if on and not is_reachable(base_url):
        words = say("Phones outside the shop cannot open {address}.", address=base_url)
        raise BadInput(words, field="on")

    def write() -> Written:
        settings.put(store, KEY, {"on": on, "hosts": list(hosts)})
        return Written(detail={"on": on, "hosts": list(hosts)})

    return store.once(act, "push-choice", write)


def read_endpoint(choice: PushChoice, typed: str) -> str:
    """The address at which a phone's service takes messages. Raises BadInput."""
    shape = _ENDPOINT.fullmatch(typed)
    if shape is None or not is_listed(choice, shape[1]):
        raise BadInput(say(NOT_LISTED), field="endpoint")
    return typed


def is_listed(choice: PushChoice, host: str) -> bool:
    return any(host == one or host.endswith(f".{one}") for one in choice.hosts)


def host_of(endpoint: str) -> str:
    """Of one that was read before; "" where it is none."""
    shape = _ENDPOINT.fullmatch(endpoint)
    return shape[1] if shape else ""


def public_key(data_dir: Path) -> str:
    """What a browser asks for before it lets the shop send. Raises NotAllowed."""
    from fitcounter.desk.messages.push_seal import public_text, shop_key

    return public_text(shop_key(load_keys(data_dir).csrf_key))


def _read(typed: str) -> str:
    """The name of a host. Raises BadInput."""
    name = typed.lower().rstrip(".")
    if _NAME.fullmatch(name) is None or f".{name}".endswith(AT_HOME):
        words = say("Type names like push.example.org, one on each line.")
        raise BadInput(words, typed=typed, field="hosts")
    return name
