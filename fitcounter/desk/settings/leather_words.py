"""What each figure of a leather is called on the page of its limits, and what it changes."""

from __future__ import annotations

LEATHER_WORDS = {
    "routine": ("Usual, one or two goes", "whether the answer is one or two goes, or in stages"),
    "round": ("Most in one go", "every next opening, and when the bench is asked for a reason"),
    "ceiling": (
        "Most on the tree, ever",
        "every answer; where it does not reach, the answer is a panel",
    ),
    "kept_mean": (
        "Kept of an opening, after a day",
        "how many goes are said; the shop’s own finished boots correct it",
    ),
    "kept_sd": (
        "Give or take",
        "how sure that number is, until the shop has finished boots of this leather",
    ),
    "strain_10mpa": ("Strain at 10 MPa", "the load on zip and seams"),
    "thickness_from_mm": (
        "Upper, from",
        "with the next, what is guessed of boots taken in from now on",
    ),
    "thickness_to_mm": (
        "Upper, to",
        "with the one before, what is guessed of boots taken in from now on",
    ),
}
FACTOR_WORDS = {
    "cloth_lining": (
        "Textile or fleece lining",
        "one go and ceiling of such boots: so much of the leather’s own",
    ),
    "dry_or_old": (
        "Dry, or over ten years",
        "one go and ceiling of such boots: so much of the leather’s own",
    ),
    "prior_stretch": (
        "Stretched before, first girth unknown",
        "the ceiling of such boots: so much of the leather’s own",
    ),
    "careful": ("Careful", "one go and ceiling of pairs taken in as careful: so much of the usual"),
}
