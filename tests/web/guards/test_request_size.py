"""What is too large is refused by its length, before anything of it is read."""

from __future__ import annotations

from io import BytesIO

import pytest
from flask import Flask
from support.cast import Counter

from fitcounter.web.guards.request_size import FORM_BYTES, LOOKED_AT

KINDS = ("application/x-www-form-urlencoded", "multipart/form-data; boundary=edge")


class Body(BytesIO):
    """A body that counts what is read of it."""

    taken = 0

    def read(self, size: int | None = -1) -> bytes:
        """What a body does."""
        came = super().read(size)
        self.taken += len(came)
        return came


def send(client: Counter, path: str, kind: str, body: Body) -> int:
    length = len(body.getbuffer())
    more = {"input_stream": body, "content_length": length, "content_type": kind}
    return client.client.post(path, **more).status_code


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    "path", ["/sign-in", "/open", "/photos/1", "/c/AAAAAAAAAAAAAAAAAAAAAA/wear"]
)
def test_nothing_of_a_strangers_large_body_is_read(stranger: Counter, kind: str, path: str) -> None:
    body = Body(b"initials=" + b"x" * (FORM_BYTES + 1))
    assert send(stranger, path, kind, body) in (404, 413)
    assert body.taken == 0


@pytest.mark.parametrize("kind", KINDS)
def test_of_a_form_that_is_too_large_only_the_beginning_is_read_for_what_was_typed(
    app: Flask, counter: Counter, kind: str
) -> None:
    """A million bytes at most, however long it is."""
    body = Body(b"name=Ada&more=" + b"x" * 3 * LOOKED_AT)
    assert send(counter, "/new", kind, body) == 413
    assert body.taken <= LOOKED_AT
