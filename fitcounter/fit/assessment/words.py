"""The computation in words for people: tiers, odds, numbers of goes, lengths and shares."""

from __future__ import annotations

from fitcounter.fit.assessment.rounds_ahead import Odds
from fitcounter.fit.handbook import rounds as book

TIER_WORDS = {
    "none": "fits already",
    "routine": "yes, one or two goes",
    "stages": "yes, in stages",
    "repair-first": "mend first",
    "panel": "not by stretching: a panel",
    "refuse": "better not",
}
LIMIT_WORDS = {
    "round": "what one round may open",
    "ceiling": "the leather's ceiling",
    "zip": "the pull on the zip",
    "seam": "the pull on the seams",
    "need": "what it is short by",
    "tree": "the largest girth of the tree",
    "running": "the round that is running",
}
_COUNTS = ("no", "one", "two", "three", "four", "five", "six")


def on_shaper(name: str) -> str:
    """What a finished boot waits on: "on shaper S2", and "on a shaper" where that is all that was
    written.
    """
    return "on a shaper" if name.strip().lower() == "shaper" else f"on shaper {name}"


def odds_word(probability: float) -> str:
    """A probability as people say it: "very likely", "likely", "about even", "unlikely"."""
    steps = (
        (book.VERY_LIKELY, "very likely"),
        (book.LIKELY, "likely"),
        (book.ABOUT_EVEN, "about even"),
    )
    return next((word for least, word in steps if probability >= least), "unlikely")


def odds_in_ten(probability: float, boots: int) -> str:
    """ "7 in 10", rounded down; never above "9 in 10" while the class stands on the table and not
    on ten of the shop's boots.
    """
    return f"{tenths_said(probability, boots)} in {book.TENTHS}"


def tenths_said(probability: float, boots: int) -> int:
    """A probability in whole tenths as it may be said: rounded down, never above nine while the
    class stands on the table and not on ten of the shop's boots.
    """
    tenths = int(probability * book.TENTHS + book.ODDS_SLACK)
    return min(tenths, book.TENTHS if boots >= book.BOOTS_TO_TRUST else book.SAID_AT_MOST)


def fits_words(fits: float, boots: int) -> str:
    """How sure "done" is: of boots called done, so many truly close."""
    said = odds_in_ten(fits, boots)
    return f"of boots called done, {said} truly close: try them on before the shelf"


def count_word(number: int) -> str:
    """A small number in letters, 0 to 6."""
    return _COUNTS[number]


def goes(number: int) -> str:
    """ "one go", "two goes"."""
    return f"{count_word(number)} {'go' if number == 1 else 'goes'}"


def goes_sentence(odds: Odds) -> str:
    """How many goes on the tree, in one sentence: "most likely two goes on the tree, perhaps
    three".
    """
    if odds.likely is None:
        return "most likely more than six goes on the tree"
    perhaps = _perhaps(odds, odds.likely)
    if odds.likely == 0:
        return "most likely no go on the tree at all" + (f", perhaps {perhaps}" if perhaps else "")
    return f"most likely {goes(odds.likely)} on the tree" + (
        f", perhaps {perhaps}" if perhaps else ""
    )


def _perhaps(odds: Odds, likely: int) -> str | None:
    """The number that eight cases in ten need, else the likeliest other one that has one chance in
    ten.
    """
    if odds.eight_in_ten is None:
        return "more than six"
    if odds.eight_in_ten != likely:
        return count_word(odds.eight_in_ten)
    others = [number for number in range(book.MOST_ROUNDS + 1) if number != likely]
    other = max(others, key=lambda number: odds.shares[number])
    return count_word(other) if odds.shares[other] >= book.PERHAPS else None


def percent(share: float) -> str:
    """A share with one decimal: "7.6 %"."""
    return f"{share * 100:.1f} %"


def about(share: float) -> str:
    """A share in whole per cent: "about 60 %"."""
    return f"about {share * 100:.0f} %"
