"""What is too large is refused, by its length before anything of it is read or by its fields; only
photos and the paper list may be larger.
"""

from __future__ import annotations

from io import BytesIO

import pytest
from flask import Flask
from support.cast import Counter
from support.whole_shop import WholeShop, rules

from fitcounter.web.guards.request_size import FORM_BYTES, LOOKED_AT, MOST_FIELDS

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


@pytest.mark.parametrize("fields", [MOST_FIELDS + 1, 5000])
def test_a_form_of_too_many_fields_is_too_large(whole: WholeShop, fields: int) -> None:
    """413, though it is small in bytes: the framework's own limit guards multipart alone."""
    client = whole.signed_in("counter")
    assert (
        client.post(
            "/new",
            data="&".join(["a=1"] * fields)[:60_000],
            content_type="application/x-www-form-urlencoded",
        ).status_code
        == 413
    )


def test_a_large_body_is_taken_by_photos_and_the_paper_list_only_and_never_from_a_stranger(
    whole: WholeShop,
) -> None:
    """Every other view stops at 64 KB; a stranger's 2 MB are not even read."""
    for rule in rules(whole.app):
        if "POST" in rule.methods:
            takes = hasattr(whole.app.view_functions[rule.endpoint], "most_bytes")
            photo = "/photo" in rule.rule and "erase" not in rule.rule
            assert takes is (photo or rule.rule.startswith("/already/list")), rule.rule
    body = (
        b'--x\r\nContent-Disposition: form-data; name="photo"; filename="x.jpg"\r\n\r\n'
        + b"x" * 2_000_000
        + b"\r\n--x--\r\n"
    )
    for path in ("/items/44/photos", f"/c/{'A' * 22}/photo"):
        answer = whole.signed_in("").post(
            path, data=body, content_type="multipart/form-data; boundary=x"
        )
        assert answer.status_code == 413, path
