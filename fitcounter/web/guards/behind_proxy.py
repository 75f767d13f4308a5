"""What the proxy before the server says of the visitor's address and scheme: the word of that proxy
alone, known by the address it comes from.
"""

from __future__ import annotations

import ipaddress
from collections.abc import Callable, Iterable
from typing import Any

from werkzeug.middleware.proxy_fix import ProxyFix

Application = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]


class OfOurProxy:
    """A WSGI application that takes the last forwarded address and scheme from its own proxy, and
    nothing forwarded from whoever reaches it otherwise.
    """

    def __init__(self, application: Application, proxy: str) -> None:
        """proxy: the address it comes from; '' for this machine's own."""
        self.direct, self.proxy = application, proxy
        self.forwarded = ProxyFix(application, x_for=1, x_proto=1, x_host=0)

    def __call__(
        self, environ: dict[str, Any], start_response: Callable[..., Any]
    ) -> Iterable[bytes]:
        if is_proxy(str(environ.get("REMOTE_ADDR", "")), self.proxy):
            return self.forwarded(environ, start_response)
        return self.direct(environ, start_response)


def is_proxy(address: str, proxy: str) -> bool:
    """Does a connection from this address come from the proxy? proxy: '' for this machine's own."""
    try:
        there = ipaddress.ip_address(address)
    except ValueError:
        return False
    there = getattr(there, "ipv4_mapped", None) or there
    return there == ipaddress.ip_address(proxy) if proxy else there.is_loopback
