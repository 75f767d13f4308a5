"""The ways in which a link, a token, a cookie or a kind of content is wrong, before any field is
read.
"""

from __future__ import annotations

from support.till import Answer, Till
from system.bad_ways import way


@way("her link")
def her_link(till: Till, how: str, _: object) -> Answer:
    token = str(till.shop.values["token"])
    ticket_id = till.store.value("SELECT id FROM tickets WHERE id = 14")
    if how in ("ended", "revoked"):
        column = {"ended": "link_until", "revoked": "link_revoked_at"}[how]
        with till.store.write_tx():
            till.store.change("tickets", ticket_id, **{column: "2026-03-01T00:00:00Z"})
    typed = {
        "wrong": "A" * 22,
        "cut": token[:-2],
        "other case": token.swapcase(),
        "full stop": f"{token}.",
        "bracket": f"{token})",
    }.get(how, token)
    answer = till.shop.app.test_client().get(f"/c/{typed}", follow_redirects=True)
    return Answer(answer.status_code, answer.text)


@way("links guessed")
def links_guessed(till: Till, _: object, __: object) -> Answer:
    stranger = till.shop.app.test_client()
    codes = [stranger.get(f"/c/{n:022}").status_code for n in range(31)]
    assert codes[:30] == [404] * 30
    answer = stranger.get(f"/c/{till.shop.values['token']}")
    assert int(answer.headers["Retry-After"]) > 0
    return Answer(answer.status_code, answer.text)


@way("page")
def a_page(till: Till, path: str, _: object) -> Answer:
    answer = till.client.get(path)
    return Answer(answer.status_code, answer.text)


@way("content type")
def content_type(till: Till, how: str, _: object) -> Answer:
    path, sent = till.usual("new job")
    body = "&".join(f"{key}={value}" for key, value in {**sent, "csrf_token": till.token}.items())
    kind = {
        "gzip": "application/x-www-form-urlencoded",
        "another charset": "application/x-www-form-urlencoded; charset=utf-16",
    }.get(how, how)
    headers = {"Content-Encoding": "gzip"} if how == "gzip" else {}
    answer = till.client.post(
        path,
        data=body.encode("utf-16" if "utf-16" in kind else "utf-8"),
        content_type=kind,
        headers=headers,
    )
    return Answer(answer.status_code, answer.text)


@way("methods")
def methods(till: Till, _: object, __: object) -> Answer:
    codes = {
        till.client.open("/new", method=method).status_code
        for method in ("PUT", "DELETE", "PATCH", "TRACE")
    }
    assert codes == {405}
    assert till.client.head("/new").status_code == till.client.options("/new").status_code == 200
    return Answer(405, "")


@way("token")
def token(till: Till, how: str, _: object) -> Answer:
    other = {
        "none": "",
        "old": till.token[:-3] + "abc",
        "of another": Till(till.shop, "owner").token,
    }[how]
    path, sent = till.usual("reading")
    return till.post(path, {**sent, "csrf_token": other})


@way("cookie")
def cookie(till: Till, how: str, _: object) -> Answer:
    stranger = till.shop.app.test_client()
    held = till.client.get_cookie("fitcounter")
    assert held
    value = {
        "garbage": "%00\xff;=x",
        "8 KB": "A" * 8192,
        "another key": held.value[:-6] + "AAAAAA",
    }[how]
    answer = stranger.get("/shop", headers={"Cookie": f"{held.key}={value}"})
    return Answer(answer.status_code, answer.headers.get("Location", ""))
