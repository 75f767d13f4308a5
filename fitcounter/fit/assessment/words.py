"""The computation in words for people: tiers, odds, numbers of rounds, lengths and shares."""

from __future__ import annotations

from fitcounter.errors import message
from fitcounter.fit.assessment.rounds_ahead import Odds
from fitcounter.fit.handbook import rounds as book

TIER_WORDS = {
    "none": message("fits already"),
    "routine": message("yes, one or two rounds"),
    "stages": message("yes, in stages"),
    "repair-first": message("repair first"),
    "panel": message("not by stretching: a panel"),
    "refuse": message("better not"),
}
LIMIT_WORDS = {
    "round": message("the most for one round"),
    "ceiling": message("the most this leather may ever stretch"),
    "zip": message("the pull on the zipper"),
    "seam": message("the pull on the seams"),
    "need": message("what is missing"),
    "tree": message("the tree wide open"),
    "running": message("the round on the tree now"),
}
# A number of rounds as it stands alone: "perhaps three".
_COUNTS = (
    message("none"),
    message("one"),
    message("two"),
    message("three"),
    message("four"),
    message("five"),
    message("six"),
)
_MORE = message("more than six")


def on_shaper(name: str) -> str:
    """What a finished boot waits on: "on shaper S2", and "on a shaper" where that is all that was
    written.
    """
    if name.strip().lower() == "shaper":
        return message("on a shaper")
    return message("on shaper {name}", name=name)


def odds_in_ten(probability: float, boots: int) -> str:
    """ "7 in 10", rounded down; never above "9 in 10" while the class stands on the table and not
    on ten of the shop's boots.
    """
    return message("{tenths} in {all}", tenths=tenths_said(probability, boots), all=book.TENTHS)


def tenths_said(probability: float, boots: int) -> int:
    """A probability in whole tenths as it may be said: rounded down, never above nine while the
    class stands on the table and not on ten of the shop's boots.
    """
    tenths = int(probability * book.TENTHS + book.ODDS_SLACK)
    return min(tenths, book.TENTHS if boots >= book.BOOTS_TO_TRUST else book.SAID_AT_MOST)


def fits_words(fits: float, boots: int) -> str:
    """How sure "done" is: of boots called done, so many truly close."""
    return message(
        "of boots called done, {odds} truly close: try them on before the shelf",
        odds=odds_in_ten(fits, boots),
    )


def count_word(number: int) -> str:
    """A small number in letters, 0 to 6: "none", "one"."""
    return _COUNTS[number]


def rounds_words(number: int) -> str:
    """ "no round", "one round", "two rounds"."""
    if number < 2:
        return message("one round") if number else message("no round")
    return message("{count} rounds", count=count_word(number))


def rounds_sentence(odds: Odds) -> str:
    """How many rounds, in one sentence: "most likely two rounds, perhaps three"."""
    if odds.likely is None:
        return message("most likely more than six rounds")
    perhaps, likely = _perhaps(odds, odds.likely), rounds_words(odds.likely)
    if perhaps is None:
        return message("most likely {rounds}", rounds=likely)
    other = _MORE if perhaps > book.MOST_ROUNDS else count_word(perhaps)
    return message("most likely {rounds}, perhaps {other}", rounds=likely, other=other)


def most_rounds_said(odds: Odds) -> int:
    """The largest number of rounds that the sentence names; one over six for "more than six"."""
    if odds.likely is None:
        return book.MOST_ROUNDS + 1
    return max(odds.likely, _perhaps(odds, odds.likely) or 0)


def _perhaps(odds: Odds, likely: int) -> int | None:
    """The number that eight cases in ten need (one over six for more), else the likeliest other one
    that has one chance in ten.
    """
    if odds.eight_in_ten is None:
        return book.MOST_ROUNDS + 1
    if odds.eight_in_ten != likely:
        return odds.eight_in_ten
    others = [number for number in range(book.MOST_ROUNDS + 1) if number != likely]
    other = max(others, key=lambda number: odds.shares[number])
    return other if odds.shares[other] >= book.PERHAPS else None


def percent(share: float) -> str:
    """A share with one decimal: "7.6 %"."""
    return f"{share * 100:.1f} %"


def about(share: float) -> str:
    """A share in whole per cent: "about 60 %"."""
    return message("about {percent} %", percent=f"{share * 100:.0f}")
