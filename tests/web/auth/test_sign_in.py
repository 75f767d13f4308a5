"""The door: who comes in, how often they may try, and when a session is over."""

from __future__ import annotations

import re
import statistics
import time

import pytest
from flask import Flask
from support.cast import PASSPHRASE, Clock
from support.sign_in_page import Door, cookie

from fitcounter.desk.shop import Store
from fitcounter.desk.staff import passphrase_and_pin, sign_in
from fitcounter.desk.staff.sign_in import Device
from fitcounter.errors import NotAllowed


def test_the_right_words_open_and_change_the_cookie(app: Flask) -> None:
    """303 to Today, and a session cookie that is another than before."""
    door = Door(app)
    door.client.get("/sign-in")
    before = cookie(door.client)
    answer = door.try_in("co", PASSPHRASE)  # small letters do as well

    assert (answer.status_code, answer.location) == (303, "/")
    assert cookie(door.client) != before
    assert door.client.get("/").status_code == 200


def test_an_unknown_person_and_a_wrong_passphrase_read_alike(app: Flask) -> None:
    """The same code and the same page, but for the initials that were typed."""
    wrong = Door(app).try_in("CO", "not the right words at all")
    unknown = Door(app).try_in("ZZ", "not the right words at all")

    def plain(page: str) -> str:
        return re.sub(r'value="[^"]*"', "", page)

    assert wrong.status_code == unknown.status_code == 422
    assert plain(wrong.text) == plain(unknown.text)


def test_an_unknown_person_costs_the_same_work_as_a_wrong_passphrase(
    store: Store, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Processor time, tries taken turn about: the medians over 9 tries each differ by less than a
    fifth. At a quarter of a hash's cost it is still nearly all of a try.
    """
    monkeypatch.setattr(passphrase_and_pin, "POLICY", "scrypt:8192:8:3")
    with store.write_tx():
        store.change("staff", 1, passphrase_hash=passphrase_and_pin.hash_secret(PASSPHRASE))
    took: dict[str, list[float]] = {"CO": [], "ZZ": []}
    for number in range(9):
        for initials, times in took.items():
            start = time.thread_time()
            with pytest.raises(NotAllowed):
                sign_in.sign_in(
                    store,
                    clock.on(minutes=6),
                    initials,
                    f"some wrong words {number}",
                    Device(f"192.0.2.{number}"),
                )
            times.append(time.thread_time() - start)

    known, unknown = (statistics.median(times) for times in took.values())
    assert abs(known - unknown) < 0.2 * max(known, unknown), (known, unknown)


def test_the_sixth_wrong_try_waits_and_says_how_long(app: Flask, clock: Clock) -> None:
    """Five tries are free; then 1, 2, 4 … seconds, never more than 300; the right passphrase has to
    wait as well.
    """
    door = Door(app)
    for _ in range(5):
        assert door.try_in("CO", "some wrong words here").status_code == 422
    waits = []
    for _ in range(11):
        answer = door.try_in("CO", PASSPHRASE)
        assert answer.status_code == 429
        waits.append(int(answer.headers["Retry-After"]))
        assert f"{waits[-1]} seconds" in answer.text or waits[-1] == 1
        clock.on(seconds=waits[-1])
        assert door.try_in("CO", "some wrong words here").status_code == 422

    assert waits == [1, 2, 4, 8, 16, 32, 64, 128, 256, 300, 300]
    clock.on(seconds=300)
    assert door.try_in("CO", PASSPHRASE).status_code == 303


def test_one_persons_wrong_tries_do_not_hold_up_another(app: Flask) -> None:
    """The count is the person's."""
    door = Door(app)
    for _ in range(6):
        door.try_in("CO", "some wrong words here")

    assert door.try_in("CO", PASSPHRASE).status_code == 429
    assert door.try_in("BE", PASSPHRASE).status_code == 303


def test_one_address_that_tries_everybody_has_to_wait(app: Flask) -> None:
    """Twenty tries are free from one address, whoever they are for; another address is not held
    up.
    """
    door = Door(app)
    codes = [door.try_in(f"X{number}", "some wrong words here").status_code for number in range(21)]

    assert codes == [422] * 20 + [429]
    assert Door(app, "192.0.2.8").try_in("BE", PASSPHRASE).status_code == 303


def test_an_address_cannot_be_borrowed_by_a_header(app: Flask) -> None:
    """Without a proxy of our own X-Forwarded-For says nothing."""
    door = Door(app)
    for number in range(20):
        door.try_in(f"X{number}", "some wrong words here")
    page = door.client.get("/sign-in").text
    token = re.search(r'name="csrf_token" value="([^"]+)"', page)
    assert token
    answer = door.client.post(
        "/sign-in",
        data={"csrf_token": token.group(1), "initials": "X", "passphrase": "y"},
        environ_base={"REMOTE_ADDR": door.address},
        headers={"X-Forwarded-For": "198.51.100.9"},
    )

    assert answer.status_code == 429


@pytest.mark.parametrize(
    "address",
    [
        "https://evil.example/",
        "//evil.example",
        "/\\evil.example",
        "\\\\evil.example",
        "javascript:alert(1)",
        "/\t/evil.example",
        "http:evil.example",
        "/%0d%0aSet-Cookie:x=1",
        " /new",
    ],
)
def test_signing_in_never_leads_to_another_site(app: Flask, address: str) -> None:
    """What stands in next is a path of our own or nothing."""
    door = Door(app)
    token = re.search(r'name="csrf_token" value="([^"]+)"', door.client.get("/sign-in").text)
    assert token
    typed = {"csrf_token": token.group(1), "initials": "CO", "passphrase": PASSPHRASE}
    answer = door.client.post("/sign-in", query_string={"next": address}, data=typed)

    assert answer.status_code == 303
    assert re.match(r"/(?![/\\])", answer.location)
    assert "evil" not in answer.location
    assert "\n" not in answer.location
