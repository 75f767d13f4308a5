"""One's own passphrase, PIN and sessions, and what signing in leaves behind (OWASP ASVS 5.0 V6,
V7).
"""

from __future__ import annotations

import re

import pytest
from flask import Flask
from support.cast import PASSPHRASE, Clock, Counter
from support.whole_shop import WholeShop, addresses, rules

from fitcounter.desk.shop import Store

NEW = "seven quiet walnut doors"


def change(somebody: Counter, **typed: str):
    somebody.get("/me")
    return somebody.post(
        "/me",
        submission_id=f"own-{len(somebody.pages):012}",
        **{"now": "", "passphrase": "", "again": "", "pin": "", **typed},
    )


def opens(app: Flask, initials: str, passphrase: str) -> bool:
    door = Counter(app.test_client())
    door.get("/sign-in")
    return door.post("/sign-in", initials=initials, passphrase=passphrase).status_code == 303


def test_a_new_passphrase_wants_the_one_held_now_and_ends_ones_other_sessions(
    app: Flask, somebody, store: Store
) -> None:
    """Wrong: nothing is changed.

    Right: the new one opens, the old one does not, and only this session goes on (6.2.2, 6.2.3,
    7.4.3, 7.5.1).
    """
    here, elsewhere = somebody("CO"), somebody("CO")
    for now in ("", "not the one I have now", NEW):
        answer = change(here, now=now, passphrase=NEW, again=NEW)
        assert answer.status_code == 422
        assert "Wrong passphrase" in answer.text
    assert opens(app, "CO", PASSPHRASE)

    assert change(here, now=PASSPHRASE, passphrase=NEW, again=NEW).status_code == 303
    assert (opens(app, "CO", PASSPHRASE), opens(app, "CO", NEW)) == (False, True)
    assert here.client.get("/me").status_code == 200
    assert elsewhere.client.get("/me").status_code == 303


def test_a_new_pin_wants_the_passphrase_held_now(counter: Counter, store: Store) -> None:
    """A phone that lies open gives nobody a PIN (7.5.1)."""
    before = store.value("SELECT pin_hash FROM staff WHERE id = 1")
    assert change(counter, now="", pin="740193").status_code == 422
    assert store.value("SELECT pin_hash FROM staff WHERE id = 1") == before
    assert change(counter, now=PASSPHRASE, pin="740193").status_code == 303
    assert store.value("SELECT pin_hash FROM staff WHERE id = 1") != before


def test_guessing_the_passphrase_on_ones_own_page_has_to_wait(counter: Counter) -> None:
    """Five tries, then a delay, as at the door (6.3.1)."""
    codes = [change(counter, now=f"guess number {n}", pin="740193").status_code for n in range(6)]
    assert codes == [422] * 5 + [429]


@pytest.mark.parametrize(("field", "typed"), [("passphrase", NEW), ("pin", "740193")])
def test_the_owner_gives_others_new_ones_and_changes_their_own_where_the_old_one_is_asked_for(
    app: Flask, owner: Counter, store: Store, field: str, typed: str
) -> None:
    """For somebody who forgot: 303, and the old one opens nothing.

    For oneself: 422, and nothing is changed (6.2.3, 6.4.3).
    """
    before = store.rows("SELECT passphrase_hash, pin_hash FROM staff WHERE id = 3")
    owner.get("/shop/people/3")
    answer = owner.post(
        f"/shop/people/3/{field}", submission_id="own-secret-00001", **{field: typed}
    )
    assert answer.status_code == 422
    assert "My passphrase and PIN" in answer.text
    assert store.rows("SELECT passphrase_hash, pin_hash FROM staff WHERE id = 3") == before

    assert (
        owner.post(
            f"/shop/people/1/{field}", submission_id="their-secret-001", **{field: typed}
        ).status_code
        == 303
    )
    if field == "passphrase":
        assert (opens(app, "CO", PASSPHRASE), opens(app, "CO", NEW)) == (False, True)


def test_signing_in_again_ends_the_session_before(app: Flask, counter: Counter) -> None:
    """The cookie of before opens nothing, though nobody signed out (7.2.4)."""
    counter.get("/me")
    held = counter.client.get_cookie("fitcounter")
    assert held
    counter.get("/sign-in")
    assert counter.post("/sign-in", initials="BE", passphrase=PASSPHRASE).status_code == 303
    assert counter.client.get("/me").status_code == 200
    old = app.test_client()
    old.set_cookie("fitcounter", held.value)
    assert old.get("/me").status_code == 303


def test_a_session_is_a_reference_of_256_bits_and_the_file_holds_only_its_hash(
    counter: Counter, store: Store
) -> None:
    """Two sessions share nothing; neither token stands in the file (7.2.1, 7.2.2, 7.2.3)."""
    with counter.client.session_transaction() as first:
        one = str(first["token"])
    counter.sign_in()
    with counter.client.session_transaction() as second:
        other = str(second["token"])
    assert one != other
    assert {len(one), len(other)} == {43}  # 32 bytes in base64url
    everything = b"".join(path.read_bytes() for path in store.path.parent.glob("shop.db*"))
    assert one.encode() not in everything
    assert other.encode() not in everything


def test_ones_sessions_are_listed_and_ended_and_nobody_elses(
    app: Flask, somebody, store: Store
) -> None:
    """Two of one's own: the other one is ended there; another person's is not found (7.5.2)."""
    here, elsewhere, ben = somebody("CO"), somebody("CO"), somebody("BE")
    page = here.get("/me").text
    assert page.count("<li>") >= 2
    ends = re.findall(r'action="(/me/sessions/\d+/end)"', page)
    assert len(ends) == 1
    bens = store.value("SELECT max(id) FROM sessions WHERE staff_id = 2")
    assert here.post(f"/me/sessions/{bens}/end").status_code == 404
    assert here.post(ends[0]).status_code == 303
    assert [one.client.get("/me").status_code for one in (here, elsewhere, ben)] == [200, 303, 200]


def test_the_owner_ends_anybodys_session(somebody, store: Store) -> None:
    """From the page of the phones, at once (7.4.5)."""
    owner, cora = somebody("OW"), somebody("CO")
    hers = store.value("SELECT max(id) FROM sessions WHERE staff_id = 1")
    assert f"/shop/sessions/{hers}/end" in owner.get("/shop/phones").text
    assert owner.post(f"/shop/sessions/{hers}/end").status_code == 303
    assert cora.client.get("/me").status_code == 303


@pytest.mark.parametrize("role", ["counter", "bench", "owner"])
def test_every_place_shows_the_way_out(whole: WholeShop, role: str) -> None:
    """Each page with the places at its foot names who is signed in and leads to signing out in one
    tap (7.4.4).
    """
    client, seen = whole.signed_in(role), 0
    for rule in rules(whole.app):
        if (
            "GET" in rule.methods
            and rule.endpoint != "static"
            and not rule.rule.startswith("/c/")  # her page asks for no sign-in
            and not rule.rule.endswith(".pdf")
        ):
            answer = client.get(next(addresses(whole, rule)))
            if (
                answer.status_code == 200
                and answer.mimetype == "text/html"
                and 'aria-label="Places"' in answer.text
            ):
                seen += 1
                assert 'href="/me"' in answer.text or 'action="/sign-out"' in answer.text, rule.rule
    assert seen > 8
    assert 'action="/sign-out"' in client.get("/me").text


def test_secrets_are_masked_and_can_be_pasted_and_filled_in(whole: WholeShop) -> None:
    """Every field for a passphrase or PIN is of type password, and nothing keeps a helper of the
    browser out (6.2.6, 6.2.7).
    """
    client, seen = whole.signed_in("owner"), 0
    for path in ("/sign-in", "/me", "/shop/people/1", "/shop/people"):
        for tag in re.findall(r"<input[^>]*>", client.get(path).text):
            name = re.search(r'name="([^"]+)"', tag)
            if name and name.group(1) in ("passphrase", "now", "again", "pin"):
                seen += 1
                assert 'type="password"' in tag, tag
                assert not re.search(r"onpaste|readonly|maxlength", tag), tag
                if name.group(1) != "pin":
                    assert re.search(r'autocomplete="(current|new)-password"', tag), tag
    assert seen >= 7


def test_codes_of_phones_that_are_guessed_have_to_wait(app: Flask, clock: Clock) -> None:
    """Thirty a minute from one address, then 429 (6.6.3)."""
    stranger = app.test_client()
    codes = [stranger.get(f"/phone/guess-{n:04}").status_code for n in range(31)]
    assert codes == [404] * 30 + [429]


def test_each_person_reads_the_language_they_chose(somebody, store: Store) -> None:
    """The others go on in the shop's; what is chosen is said in the language chosen."""
    here, elsewhere = somebody("CO"), somebody("BE")
    here.get("/me")
    answer = here.post("/me/language", submission_id="language-000001", language="es")
    assert answer.status_code == 303

    page = here.get("/me").text
    assert '<html lang="es"' in page
    assert "Tus páginas están ahora en Español." in page
    assert "Mi contraseña y PIN" in page
    assert "My passphrase and PIN" in elsewhere.get("/me").text

    here.post("/me/language", submission_id="language-000002", language="")
    assert "My passphrase and PIN" in here.get("/me").text


def test_a_language_that_is_not_there_is_refused(somebody, store: Store) -> None:
    here = somebody("CO")
    here.get("/me")
    answer = here.post("/me/language", submission_id="language-000003", language="tlh")
    assert answer.status_code == 422
    assert "Pick one of the languages on the page." in answer.text
    assert "My passphrase and PIN" in here.get("/me").text
