"""A device at the sign-in page, and the cookie it carries."""

from __future__ import annotations

import re

from flask import Flask
from flask.testing import FlaskClient


class Door:
    """A device at the sign-in page."""

    def __init__(self, app: Flask, address: str = "192.0.2.7") -> None:
        self.client: FlaskClient = app.test_client()
        self.address = address

    def try_in(self, initials: str, passphrase: str):
        page = self.client.get("/sign-in", environ_base={"REMOTE_ADDR": self.address}).text
        token = re.search(r'name="csrf_token" value="([^"]+)"', page)
        assert token
        typed = {"csrf_token": token.group(1), "initials": initials, "passphrase": passphrase}
        return self.client.post("/sign-in", data=typed, environ_base={"REMOTE_ADDR": self.address})


def cookie(client: FlaskClient) -> str:
    found = client.get_cookie("fitcounter")
    return found.value if found else ""
