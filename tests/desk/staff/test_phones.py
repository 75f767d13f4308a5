"""The shop's phones: taken in by a code that is good once, for ten minutes."""

from __future__ import annotations

import pytest
from support.cast import PASSPHRASE, Clock

from fitcounter.desk.staff import phones, sign_in
from fitcounter.desk.staff.sign_in import Device
from fitcounter.errors import Expired, NotFound
from fitcounter.store.database import Act, Store


@pytest.fixture
def owner(act: Act) -> Act:
    return Act(act.at, 3)


def test_a_code_takes_one_phone_in_and_is_dead_after_it(store: Store, owner: Act) -> None:
    code = phones.new_code(store, owner)
    secret = phones.enrol(store, owner, code, "Bench")
    phone = phones.of_secret(store, secret)
    assert phone is not None
    assert (phone.label, phone.enrolled_by) == ("Bench", 3)
    with pytest.raises(NotFound):
        phones.enrol(store, owner, code, "Other")
    assert phones.listed(store) == [phone]


def test_a_code_is_dead_after_ten_minutes_and_one_made_up_never_lived(
    store: Store, owner: Act, clock: Clock
) -> None:
    code = phones.new_code(store, owner)
    assert phones.waiting(store, code, clock.on(minutes=9, seconds=59)).label == ""
    with pytest.raises(Expired):
        phones.waiting(store, code, clock.on(seconds=1))
    with pytest.raises(NotFound):
        phones.waiting(store, code + "x", clock.now)


def test_the_file_keeps_neither_code_nor_secret(store: Store, owner: Act) -> None:
    code = phones.new_code(store, owner)
    secret = phones.enrol(store, owner, code, "Bench")
    store.db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    held = store.path.read_bytes()
    assert code.encode() not in held
    assert secret.encode() not in held


def test_sessions_that_live_are_listed_with_their_person_latest_first(
    store: Store, clock: Clock
) -> None:
    for initials in ("CO", "BE"):
        sign_in.sign_in(store, clock.on(minutes=1), initials, PASSPHRASE, Device())
    everybody = phones.open_now(store, clock.now)
    assert [one.person.initials for one in everybody if one.person] == ["BE", "CO"]
    assert [one.session.staff_id for one in phones.open_now(store, clock.now, 1)] == [1]


def test_the_code_for_a_camera_is_a_picture_with_a_name(store: Store) -> None:
    drawn = str(phones.qr_code("https://b.example/enrol/abc"))
    assert drawn.startswith("<svg")
    assert "<title>Scan this code with the phone</title>" in drawn
