"""The same tests once more, every page asked for over HTTPS: `PYTHONPATH=tests pytest -p
support.over_https tests/web`.

The application of a test is then a shop whose phones come over HTTPS, a device that says nothing
else asks at https://localhost, and a cookie that a test names is the one of that name which travels
by HTTPS alone.
"""

from __future__ import annotations

from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from support.whole_shop import open_copy
from werkzeug.datastructures import ImmutableDict

from fitcounter.settings import Settings

# What these say is true of plain HTTP alone.
OTHER_SITES = "test_other_sites.py"
PAST_THE_PROXY = "test_behind_proxy.py::test_whoever_reaches_past_the_proxy_is_who_they_are"
PLAIN = (
    f"{OTHER_SITES}::test_a_host_that_is_not_ours_gets_no_page",
    f"{OTHER_SITES}::test_a_form_of_another_site_is_refused_even_with_a_token[headers1-422]",
    f"{PAST_THE_PROXY}[-192.168.1.66-192.168.1.66-http]",
    f"{PAST_THE_PROXY}[192.168.1.2-192.168.1.66-192.168.1.66-http]",
    f"{PAST_THE_PROXY}[192.168.1.2-127.0.0.1-127.0.0.1-http]",
    "test_link_address.py::test_a_shop_that_no_phone_outside_can_reach_says_so_and_sends_no_link",
)
OF_A_LINK = ("agreed", "her-language")  # cookies for the path of a customer's page alone


def over_https() -> None:
    names = [name for name in Settings.__match_args__ if name != "data_dir"]
    usual = dict(zip(names, Settings.__init__.__defaults__ or (), strict=True))
    changed = {**usual, "https": True, "base_url": "https://localhost:8000"}
    Settings.__init__.__defaults__ = tuple(changed.values())  # type: ignore[misc]
    open_copy.__kwdefaults__ = {**open_copy.__kwdefaults__, "https": True}
    Flask.default_config = ImmutableDict({**Flask.default_config, "PREFERRED_URL_SCHEME": "https"})
    for name in ("get_cookie", "set_cookie", "delete_cookie"):
        setattr(FlaskClient, name, _of_https(getattr(FlaskClient, name)))


def _of_https(works: Any) -> Any:
    return lambda client, key, *given, **more: works(
        client, key if key in OF_A_LINK else f"__Host-{key}", *given, **more
    )


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    plain = [one for one in items if one.nodeid.endswith(PLAIN)]
    config.hook.pytest_deselected(items=plain)
    items[:] = [one for one in items if one not in plain]


over_https()
