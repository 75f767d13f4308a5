"""Shop, People: who works here, added, put right, and gone."""

from __future__ import annotations

import pytest
from support.cast import Counter

from fitcounter.store.database import Store

NEW = {
    "name": "Ines Quarrington",
    "initials": "IQ",
    "role": "bench",
    "passphrase": "walnut tide lantern oboe",
    "pin": "740193",
}


def people(store: Store) -> list[tuple[str, str]]:
    return [
        (row["initials"], row["role"]) for row in store.rows("SELECT initials, role FROM staff")
    ]


def test_somebody_new_is_there_at_once_and_once_though_sent_twice(owner: Counter, store: Store):
    owner.get("/shop/people")
    for _ in range(2):
        sent = owner.post("/shop/people", submission_id="new-person-00001", **NEW)
        assert sent.status_code == 303
    assert people(store).count(("IQ", "bench")) == 1
    assert "Ines Quarrington" in owner.get("/shop/people").text


@pytest.mark.parametrize(
    ("field", "typed"), [("initials", "CO"), ("passphrase", "short"), ("pin", "1234"), ("name", "")]
)
def test_what_cannot_be_taken_is_said_nobody_is_added_and_no_secret_comes_back(
    owner: Counter, store: Store, field: str, typed: str
):
    before = people(store)
    owner.get("/shop/people")
    answer = owner.post("/shop/people", submission_id="new-person-00002", **{**NEW, field: typed})
    assert answer.status_code == 422
    assert people(store) == before
    assert NEW["passphrase"] not in answer.text
    assert field == "name" or "Ines Quarrington" in answer.text


def test_what_somebody_does_is_changed_and_never_by_others_than_the_owner(
    owner: Counter, bench: Counter, store: Store
):
    owner.get("/shop/people/1")
    typed = {"name": "Cora", "initials": "CO", "role": "bench", "language": ""}
    assert (
        owner.post("/shop/people/1", submission_id="other-role-00001", **typed).status_code == 303
    )
    assert ("CO", "bench") in people(store)
    assert bench.get("/shop/people").status_code == 403
