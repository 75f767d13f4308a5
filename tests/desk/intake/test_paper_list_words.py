"""The words of a paper list, as a counter writes them down."""

from __future__ import annotations

import pytest

from fitcounter.desk.common.translation import speaking
from fitcounter.desk.intake.paper_list_words import STRETCH, Piece, read_what, read_where, terms
from fitcounter.errors import BadInput

PAIR = read_what("boots")


@pytest.mark.parametrize(
    ("typed", "sides", "words"),
    [
        ("boots", ("left", "right"), "both boots to stretch"),
        ("black pair", ("left", "right"), "both boots to stretch"),
        ("left boot", ("left",), "left boot to stretch"),
        ("boot right: stretching", ("right",), "right boot to stretch"),
        ("bag: new zipper", (), "bag: new zipper"),
        ("boots + bag: new zipper", ("left", "right"), "both boots to stretch; bag: new zipper"),
        ("boots: new heels", (), "boot: new heels"),
    ],
)
def test_what_is_here_is_read_and_said_again(
    typed: str, sides: tuple[str, ...], words: str
) -> None:
    read = read_what(typed)
    assert (read.sides, read.words) == (sides, words)


def test_a_thing_keeps_what_it_was_called_and_its_work() -> None:
    assert read_what("tan satchel: new strap; odd thing").pieces == (
        Piece("bag", "tan satchel", "new strap"),
        Piece("other", "odd thing", ""),
    )


@pytest.mark.parametrize(
    "typed", ["", " + ", "boots + boots", ": new zipper", "bag: " + "x" * 81, "bag+" * 9]
)
def test_what_cannot_be_read_is_asked_for_again(typed: str) -> None:
    with pytest.raises(BadInput):
        read_what(typed)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("", "waiting for the bench"),
        ("shelf C2", "ready, shelf C2"),
        ("C2", "ready, shelf C2"),
        ("on trees 4 and 9", "on trees 4 and 9"),
        ("tree: 4, 9", "on trees 4 and 9"),
    ],
)
def test_where_it_is_is_read_and_said_again(typed: str, words: str) -> None:
    assert read_where(typed, PAIR, ("C2",)).words == words


@pytest.mark.parametrize("typed", ["on the moon", "tree 4", "tree 4 and 9 and 12"])
def test_a_place_nobody_knows_or_too_few_trees_are_asked_for_again(typed: str) -> None:
    with pytest.raises(BadInput):
        read_where(typed, PAIR, ())
    with pytest.raises(BadInput):
        read_where("tree 4", read_what("bag"), ())


def test_a_bag_that_is_being_worked_on_waits_like_any_other_thing() -> None:
    bag = read_what("bag: new zipper")
    assert read_where("finishing", bag, ()).state == "queued"
    assert read_where("ready", bag, ()).state == "shelved"
    assert read_where("finishing", PAIR, ()).state == "finishing"


def test_words_are_understood_in_english_and_in_the_language_spoken() -> None:
    assert terms(STRETCH) == ("stretching", "stretch")
    with speaking("es"):
        assert {"stretch", "stretching"} < set(terms(STRETCH))
