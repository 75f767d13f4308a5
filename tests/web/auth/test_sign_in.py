"""The door: who comes in, how often they may try, and when a session is over."""

from __future__ import annotations

import re
import statistics
import time

import pytest
from flask import Flask
from support.cast import PASSPHRASE, Clock
from support.sign_in_page import Door, cookie

from fitcounter.desk.shop import Act, Store
from fitcounter.desk.staff import people, secrets, sign_in
from fitcounter.desk.staff.sign_in import Device
from fitcounter.errors import BadInput, NotAllowed, TooManyTries
from fitcounter.store import staff


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


@pytest.mark.usefixtures("real_hashes")
def test_an_unknown_person_costs_the_same_work_as_a_wrong_passphrase(
    store: Store, clock: Clock
) -> None:
    """Processor time, tries taken turn about: the medians over 9 tries each differ by less than a
    fifth.
    """
    with store.write_tx():
        store.change("staff", 1, passphrase_hash=secrets.hash_secret(PASSPHRASE))
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


def test_wrong_tries_outlive_a_restart(store: Store, clock: Clock) -> None:
    """The count is in the file."""
    for number in range(5):
        with pytest.raises(NotAllowed):
            sign_in.sign_in(
                store, clock.now, "CO", "some wrong words here", Device(f"192.0.2.{number}")
            )
    again = Store(store.path)
    try:
        with pytest.raises(TooManyTries):
            sign_in.sign_in(again, clock.now, "CO", PASSPHRASE, Device())
    finally:
        again.close()


def test_a_clock_set_back_does_not_lock_the_door_for_longer(store: Store, clock: Clock) -> None:
    """A delay is never more than five minutes, whatever the clock says."""
    for number in range(7):
        with pytest.raises(NotAllowed):
            sign_in.sign_in(
                store,
                clock.on(seconds=10),
                "CO",
                "some wrong words here",
                Device(f"192.0.2.{number}"),
            )
    clock.on(days=-30)

    with pytest.raises(TooManyTries) as held:
        sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())
    assert held.value.wait_s <= 300


def test_a_day_of_quiet_forgets_the_failures(store: Store, clock: Clock) -> None:
    """After it five tries are free again."""
    for number in range(5):
        with pytest.raises(NotAllowed):
            sign_in.sign_in(
                store, clock.now, "CO", "some wrong words here", Device(f"192.0.2.{number}")
            )
    clock.on(days=1, seconds=5)
    with pytest.raises(NotAllowed) as refused:
        sign_in.sign_in(store, clock.now, "CO", "some wrong words here", Device())
    assert not isinstance(refused.value, TooManyTries)
    sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())


@pytest.mark.usefixtures("real_hashes")
def test_a_passphrase_hashed_under_an_older_policy_is_hashed_again(
    store: Store, clock: Clock
) -> None:
    """At the next sign-in; the old hash is gone, and the passphrase still opens."""
    import hashlib

    digest = hashlib.scrypt(PASSPHRASE.encode(), salt=b"old", n=2**14, r=8, p=1).hex()
    with store.write_tx():
        store.change("staff", 1, passphrase_hash=f"scrypt:16384:8:1$old${digest}")
    sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())

    assert staff.secrets_of(store, 1).passphrase_hash.startswith("scrypt:32768:8:3$")
    sign_in.sign_in(store, clock.now, "CO", PASSPHRASE, Device())


@pytest.mark.parametrize(
    "passphrase",
    [
        "👢 boots that will 👢 close",
        "x" * 30 + " and sixty-four characters or more, " + "qwe tyu",
        " leading and trailing ",
    ],
)
def test_a_passphrase_counts_as_it_was_typed(store: Store, clock: Clock, passphrase: str) -> None:
    """Long ones, spaces and signs of any script are kept to the byte (OWASP ASVS 5.0 6.2.8)."""
    people.set_secrets(store, Act(clock.now, 3), 1, passphrase=passphrase)
    sign_in.sign_in(store, clock.now, "CO", passphrase, Device())
    with pytest.raises(NotAllowed):
        sign_in.sign_in(store, clock.now, "CO", passphrase.strip() + "x", Device())


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


@pytest.mark.parametrize(
    "passphrase",
    [
        "fourteen chars",
        "passwordpassword",
        "correct horse battery staple",
        "qwertyuiopasdfgh",
        "123456789012345678",
        "aaaaaaaaaaaaaaaaaaaa",
        "Quillmarsh Leather Bench",
        "quillmarshquillmarsh",
        "Cora Cora Cora Cora",
        "P@ssw0rdP@ssw0rd",
        "iloveyouiloveyou1",
        "abcdefghijklmnopqrstuvwxyz",
        "boots boots boots boots",
        "letmeinletmein123456",
        "x" * 201,
    ],
)
def test_a_passphrase_that_many_would_think_of_is_refused(
    store: Store, clock: Clock, passphrase: str
) -> None:
    """Too short, one of the usual, a row of keys, the shop's name or the person's, again and again;
    or far too long.
    """
    with pytest.raises(BadInput) as refused:
        people.set_secrets(store, Act(clock.now, 3), 1, passphrase=passphrase)
    assert refused.value.field == "passphrase"


@pytest.mark.parametrize(
    "passphrase",
    [
        "four plain oak words",
        "chestnut counter morning",
        "quiet bench by the door",
        "ünïcödé wörds äre fine",
        "3 blind mice, 7 tall ships",
    ],
)
def test_a_passphrase_of_plain_words_is_taken(store: Store, clock: Clock, passphrase: str) -> None:
    """No capitals, figures or signs are asked for."""
    assert people.set_secrets(store, Act(clock.now, 3), 1, passphrase=passphrase).row_id == 1


@pytest.mark.parametrize(
    "pin",
    [
        "12345",
        "1234567",
        "123456",
        "654321",
        "000000",
        "121212",
        "123123",
        "112112",
        "٣٣٤٥٦٧",
        "12345a",
        "",
    ],
)
def test_a_pin_that_anybody_tries_first_is_refused(store: Store, clock: Clock, pin: str) -> None:
    """Not six figures, a row, a repeat."""
    from fitcounter.desk.staff.secrets import good_pin

    with pytest.raises(BadInput):
        good_pin(pin)
    assert good_pin("740193") == "740193"


def test_eight_tries_at_once_count_as_eight(store: Store, clock: Clock) -> None:
    """A try is counted before it is looked at, so that threads cannot outrun the count."""
    from concurrent.futures import ThreadPoolExecutor

    def one(number: int) -> str:
        mine = Store(store.path)
        try:
            sign_in.sign_in(
                mine, clock.now, "CO", f"some wrong words {number}", Device(f"192.0.2.{number}")
            )
        except TooManyTries:
            return "waits"
        except NotAllowed:
            return "refused"
        finally:
            mine.close()
        return "in"

    with ThreadPoolExecutor(8) as pool:
        answers = sorted(pool.map(one, range(8)))
    assert answers == ["refused"] * 5 + ["waits"] * 3
