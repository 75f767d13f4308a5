"""Forms that were begun, kept as typed: what names them, and what is never kept."""

from __future__ import annotations

import pytest
from werkzeug.datastructures import MultiDict

from fitcounter.desk.common import drafts
from fitcounter.errors import BadInput
from fitcounter.store.database import Act, Store

ID = "a" * 22


def keep(store: Store, act: Act, *pairs: tuple[str, str], draft_id: str = ID) -> None:
    drafts.keep(store, act, draft_id, "new-job", MultiDict(pairs))


def test_what_was_typed_comes_back_with_its_id_and_takes_the_place_of_what_was(
    store: Store, act: Act
) -> None:
    keep(store, act, ("name", "Mari"))
    keep(store, act, ("name", "Marisol"), ("finding", "dry"), ("finding", "zip"), ("note", ""))
    assert drafts.typed(store, ID) == [
        ("name", "Marisol"),
        ("finding", "dry"),
        ("finding", "zip"),
        ("draft", ID),
    ]
    assert drafts.typed(store, "b" * 22) == []


@pytest.mark.parametrize(
    "secret", ["csrf_token", "submission_id", "passphrase", "pin", "signature"]
)
def test_no_secret_is_kept(store: Store, act: Act, secret: str) -> None:
    keep(store, act, (secret, "740193"), ("name", "Marisol"))
    assert drafts.typed(store, ID) == [("name", "Marisol"), ("draft", ID)]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ([("description", "tan boot"), ("phone", "0142"), ("name", "Marisol")], "Marisol"),
        ([("description", "tan boot"), ("phone", "0142")], "0142"),
        ([("note", "wide calf")], ""),
        ([("name", "M" * 99)], "M" * 80),
    ],
)
def test_a_draft_is_called_by_name_phone_or_description(
    store: Store, act: Act, typed: list[tuple[str, str]], words: str
) -> None:
    keep(store, act, *typed)
    assert [draft.words for draft in drafts.begun(store, "new-job")] == [words]


def test_what_is_too_long_or_has_no_id_of_ours_is_refused(store: Store, act: Act) -> None:
    keep(store, act, ("note", "x" * drafts.MOST_TYPED))
    with pytest.raises(BadInput) as long:
        keep(store, act, ("note", "x" * (drafts.MOST_TYPED + 1)))
    assert long.value.field == "note"
    with pytest.raises(BadInput) as strange:
        keep(store, act, ("name", "Mari"), draft_id="../etc/passwd/x/y/z")
    assert strange.value.field == "draft"
    assert drafts.typed(store, drafts.new_id()) == []
