"""A form that another site sends is refused, a host of another name gets no page, and the shop's
own form is saved over HTTPS.
"""

from __future__ import annotations

import re

import pytest
from support.whole_shop import WholeShop, ask


def test_a_form_is_saved_over_https_too(whole_https: WholeShop) -> None:
    """Pages that send no referrer, a browser that sends an Origin: the form's token and the Origin
    are enough.
    """
    client = whole_https.signed_in("bench")
    page = ask(whole_https, client, "/items/44").text
    token = re.search(r'name="csrf_token" value="([^"]+)"', page)
    assert token
    typed = {
        "csrf_token": token.group(1),
        "submission_id": "https-save-00001",
        "word": "scuffs",
        "place": "toe",
    }
    plain = ask(
        whole_https,
        client,
        "/items/44/finding",
        "POST",
        data=typed,
        headers={"Origin": "http://localhost"},
    )
    assert plain.status_code == 403, "the plain page of the same name is another site"
    answer = ask(
        whole_https,
        client,
        "/items/44/finding",
        "POST",
        data=typed,
        headers={"Origin": "https://localhost"},
    )
    assert answer.status_code == 303
    assert (
        whole_https.store.value(
            "SELECT place FROM findings WHERE item_id = 44 ORDER BY id DESC LIMIT 1"
        )
        == "toe"
    )


@pytest.mark.parametrize(
    ("headers", "code"),
    [
        ({}, 422),
        ({"Origin": "http://localhost"}, 422),
        ({"Origin": "null", "Sec-Fetch-Site": "same-origin"}, 422),
        ({"Sec-Fetch-Site": "same-origin"}, 422),
        ({"Origin": "http://evil.example"}, 403),
        ({"Origin": "http://localhost.evil.example"}, 403),
        ({"Origin": "http://localhost:81"}, 403),
        ({"Origin": "null"}, 422),
        ({"Sec-Fetch-Site": "cross-site"}, 403),
        ({"Sec-Fetch-Site": "same-site"}, 403),
        ({"Origin": "null", "Sec-Fetch-Site": "cross-site"}, 403),
        ({"Origin": "rubbish"}, 403),
        ({"Origin": "http://localhost@evil.example"}, 403),
    ],
)
def test_a_form_of_another_site_is_refused_even_with_a_token(
    whole: WholeShop, headers: dict[str, str], code: int
) -> None:
    """403, and nothing that came is shown back, so that no other site can fill in a form for
    somebody to confirm.
    """
    client = whole.signed_in("counter")
    token = re.search(r'name="csrf_token" value="([^"]+)"', client.get("/new").text)
    assert token
    answer = client.post(
        "/new", data={"csrf_token": token.group(1), "name": "Filled-in-elsewhere"}, headers=headers
    )
    assert answer.status_code == code
    assert ("Filled-in-elsewhere" in answer.text) is (code == 422)


def test_a_host_that_is_not_ours_gets_no_page(whole: WholeShop) -> None:
    """Another name in Host is refused; a forwarded one is not looked at without a proxy of ours."""
    client = whole.signed_in("")
    assert client.get("/sign-in", headers={"Host": "evil.example"}).status_code == 400
    answer = client.get(
        "/", headers={"X-Forwarded-Host": "evil.example", "X-Forwarded-Proto": "https"}
    )
    assert (answer.status_code, answer.location) == (303, "/sign-in?next=/")
    assert "Strict-Transport-Security" not in answer.headers
