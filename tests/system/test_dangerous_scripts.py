"""What the scripts of the pages never do, read from their source: put text in as markup, fetch from
another site, listen to a stranger's window.

The titles name the requirements of OWASP ASVS 5.0; tests/reference/asvs.csv leads here.
"""

from __future__ import annotations

import re

import pytest
from support.paths import CHECKOUT

SCRIPTS = {
    path.name: path.read_text(encoding="utf-8")
    for path in [
        *(CHECKOUT / "static" / "js").glob("*.js"),
        *(CHECKOUT / "templates").rglob("*.js"),
    ]
}


@pytest.mark.parametrize(
    "word",
    [
        "innerHTML",
        "outerHTML",
        "insertAdjacentHTML",
        "document.write",
        "eval(",
        "new Function",
        "setHTMLUnsafe",
        "createContextualFragment",
        "__proto__",
        "constructor.prototype",
        "http://",
        "https://",
        "window.open",
        "onmessage",
        "JSONP",
    ],
)
def test_the_scripts_set_text_and_ask_nobody_else(word: str) -> None:
    """Text goes in as text, nothing of another site is fetched, no message of a stranger's window
    is heard (3.2.2, 3.7.1, 15.3.6).
    """
    assert len(SCRIPTS) > 15
    allowed = {"http://": {"w3.org"}, "https://": set()}
    for name, text in SCRIPTS.items():
        found = [
            line
            for line in text.splitlines()
            if word in line and not any(one in line for one in allowed.get(word, ()))
        ]
        assert [line for line in found if not line.lstrip().startswith("//")] == [], name


def test_messages_come_from_our_own_tabs_alone() -> None:
    """Who listens for messages listens to a broadcast channel or to the page's own worker, which no
    other site can write to (3.5.5).
    """
    heard = [
        (name, line.strip())
        for name, text in SCRIPTS.items()
        for line in text.splitlines()
        if "'message'" in line
    ]
    assert [name for name, _ in heard] == ["wear_clock.js", "wear_clock.js", "offline_send.js"]
    assert heard[0][1].startswith("new BroadcastChannel('outbox').addEventListener(")
    assert heard[1][1].startswith("navigator.serviceWorker?.addEventListener(")
    channel = heard[2][1].split("?.")[0].strip()
    assert re.search(rf"const {channel} = .*new BroadcastChannel\(", SCRIPTS["offline_send.js"])
