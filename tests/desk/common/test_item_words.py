"""What an item, its side and its state are called."""

from __future__ import annotations

import pytest

from fitcounter.desk.common import item_words
from fitcounter.fit.item_names import State


@pytest.mark.parametrize(
    ("side", "kind", "words"),
    [("left", "boot", "Left 22"), (None, "bag", "Bag 22"), (None, "other", "Item 22")],
)
def test_an_item_is_named_by_its_side_or_its_kind(side: str | None, kind: str, words: str) -> None:
    assert item_words.named(side, kind, 22) == words


def test_every_state_has_words_in_small_letters() -> None:
    for state in State:
        assert item_words.state_word(state)[0].islower()
