"""How a customer was told is said in words; what nobody knows any more stands as it is kept."""

from __future__ import annotations

from fitcounter.desk.common.how_they_were_told import call_words


def test_each_way_has_its_words():
    assert [call_words(how) for how in ("called", "left-word", "pigeon")] == [
        "Told",
        "Left a message",
        "pigeon",
    ]
