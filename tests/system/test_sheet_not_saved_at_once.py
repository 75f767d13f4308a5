"""A sheet of readings that cannot be saved as it comes: too large, too late, on a full disk, or
by a mistake of ours. Every reading is still there, and saving again saves it.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from flask import Flask
from support.cast import Clock, Counter
from support.counter_forms import fresh, sheet
from support.disk_trouble import full_disk, locked, read_only
from system.open_sheet import fit_id, missing, raw, readings, save_again, stored

from fitcounter.desk import shop
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.shop import Act, Store
from fitcounter.store import fits

__all__ = ["fit_id"]


def test_too_large_keeps_what_a_hand_can_type(counter: Counter, store: Store, fit_id: int) -> None:
    """A reading of 300 KB, 413: the eleven others are on the page and are saved from it."""
    path = f"/fits/{fit_id}/measure"
    answer = raw(counter, path, readings(boot_right_2="9" * 300_000))
    assert (answer.status_code, missing(answer), stored(store)) == (413, ["14 1/16"], 0)
    assert "9" * 100 not in answer.text
    assert save_again(counter, path, answer).status_code in (303, 422)


def test_a_picture_too_large_keeps_the_words_beside_it(
    counter: Counter, store: Store, fit_id: int
) -> None:
    """Thirty megabytes: 413, and the fields that came before the picture are still there."""
    before = b"".join(
        b'--x\r\nContent-Disposition: form-data; name="%s"\r\n\r\n%s\r\n'
        % (k.encode(), str(v).encode())
        for k, v in readings().items()
    )
    body = (
        before
        + b'--x\r\nContent-Disposition: form-data; name="photo"; filename="p.jpg"\r\n\r\n'
        + b"\xff" * 30_000_000
        + b"\r\n--x--\r\n"
    )
    for path in (f"/fits/{fit_id}/measure", "/items/1/photos"):
        token = counter.token()
        answer = counter.client.post(
            path,
            data=body,
            content_type="multipart/form-data; boundary=x",
            headers={"X-CSRFToken": token},
        )
        assert (answer.status_code, missing(answer), stored(store)) == (413, [], 0), path


def test_two_who_measured_both_stand_on_the_page(
    counter: Counter, owner: Counter, store: Store, fit_id: int
) -> None:
    """409 with what is stored and with what was typed; saving again is a choice somebody made."""
    version = str(fits.get(store, fit_id).version)
    owner.get(f"/fits/{fit_id}/measure")
    theirs = {**readings(), "boot_left_0": "12 1/2", "version": version}
    assert owner.post(f"/fits/{fit_id}/measure", **theirs).status_code == 303
    path = f"/fits/{fit_id}/measure"
    answer = raw(counter, path, readings(version=version))
    assert (answer.status_code, missing(answer)) == (409, [])
    assert "12 1/2" in answer.text
    assert (
        store.value(
            "SELECT girth_text FROM boot_readings WHERE height_text LIKE '10 1/2%' AND item_id = 1"
        )
        == "12 1/2"
    )
    assert save_again(counter, path, answer).status_code == 303
    assert (
        store.value(
            "SELECT girth_text FROM boot_readings WHERE height_text LIKE '10 1/2%' AND item_id = 1"
        )
        == "12 7/8"
    )


@pytest.mark.parametrize(("trouble", "code"), [(full_disk, 507), (locked, 503), (read_only, 503)])
def test_a_full_or_busy_disk_keeps_it_and_saves_it_afterwards(
    counter: Counter,
    store: Store,
    fit_id: int,
    monkeypatch: pytest.MonkeyPatch,
    trouble: Callable[..., object],
    code: int,
) -> None:
    """507 or 503 with all readings, nothing half written, pages still open; when there is room
    again one tap saves it.
    """
    path = f"/fits/{fit_id}/measure"
    with trouble(store, monkeypatch):  # type: ignore[attr-defined]
        answer = raw(counter, path, readings())
        assert counter.client.get("/me").status_code == 200
    assert (answer.status_code, missing(answer), stored(store)) == (code, [], 0)
    assert ("Retry-After" in answer.headers) is (code == 503)
    assert save_again(counter, path, answer).status_code == 303
    assert stored(store) == 12


def test_a_mistake_of_ours_keeps_it_too(
    app: Flask, counter: Counter, store: Store, fit_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """500 with all readings; when it is mended one tap saves it."""
    app.config["PROPAGATE_EXCEPTIONS"] = False
    path = f"/fits/{fit_id}/measure"
    with monkeypatch.context() as patch:
        patch.setattr(measuring_save, "save", lambda *_: 1 / 0)
        answer = raw(counter, path, readings())
    assert (answer.status_code, missing(answer), stored(store)) == (500, [], 0)
    assert save_again(counter, path, answer).status_code == 303
    assert stored(store) == 12


def test_sent_again_after_the_answer_was_lost_it_is_stored_once(
    counter: Counter, store: Store, fit_id: int
) -> None:
    """The same submission id: the second answer is the first result."""
    form = readings(submission_id=fresh())
    path = f"/fits/{fit_id}/measure"
    first, second = raw(counter, path, form), raw(counter, path, form)
    assert (first.status_code, second.status_code, first.location) == (303, 303, second.location)
    assert stored(store) == 12


def test_heights_that_the_shop_gave_up_meanwhile_lose_no_reading(
    counter: Counter, store: Store, clock: Clock, fit_id: int
) -> None:
    """A sheet of five lines comes in where the shop asks for three by now: all five are stored, or
    all stand there again.
    """
    shop.choose(store, Act(clock.now), heights_mm=[114.3, 165.1, 203.2, 266.7, 317.5])
    five = {
        f"height_{row}": text
        for row, text in enumerate(("4 1/2", "6 1/2", "8", "10 1/2", "12 1/2"))
    }
    five |= {f"gap_{side}_{row}": "3/8" for side in ("left", "right") for row in range(5)}
    five |= {
        f"boot_{side}_{row}": f"{11 + row} 1/2" for side in ("left", "right") for row in range(5)
    }
    shop.choose(store, Act(clock.now), heights_mm=[114.3, 203.2, 317.5])
    wrong = raw(
        counter, f"/fits/{fit_id}/measure?depth=whole", {**sheet(), **five, "gap_left_0": "three"}
    )
    assert (wrong.status_code, stored(store)) == (422, 0)
    assert [text for text in five.values() if f'value="{text}"' not in wrong.text] == []
    assert (
        raw(counter, f"/fits/{fit_id}/measure?depth=whole", {**sheet(), **five}).status_code == 303
    )
    assert stored(store) == 20
