"""Two people at the same record lose nothing of each other's."""

from __future__ import annotations

import pytest

from fitcounter.desk.common.two_people_changed import both_texts, merged


def test_each_keeps_the_field_they_changed_and_only_the_same_field_is_asked_about():
    was = {"name": "Ada", "phone": "1", "note": "ring twice"}
    theirs = {"name": "Ada", "phone": "2", "note": "ring twice; back door"}
    mine = {"name": "Ada Lovelace", "phone": "1", "note": "ring twice, after five"}
    changed, both = merged(was, theirs, mine, ("note",))
    assert changed == {
        "name": "Ada Lovelace",
        "note": "ring twice; back door\n, after five",
    }
    assert both == []
    changed, both = merged(was, theirs, {**mine, "phone": "3"}, ("note",))
    assert both == ["phone"]
    assert changed["phone"] == "3"


@pytest.mark.parametrize(
    ("was", "theirs", "mine", "kept"),
    [
        ("", "call after five", "no calls", "call after five\nno calls"),
        ("a", "a b", "a c", "a b\nc"),
        ("a", "b", "", "b"),
        ("a", "b", "b", "b"),
        ("a", "", "a c", "c"),
    ],
)
def test_both_texts_are_kept(was: str, theirs: str, mine: str, kept: str):
    assert both_texts(was, theirs, mine) == kept
