"""What each figure of a leather is called on the page of its limits, and what it changes."""

from __future__ import annotations

from fitcounter.desk.common.translation import marked

LEATHER_WORDS = {
    "routine": (
        marked("Usual, one or two rounds"),
        marked("Up to here the estimate is one or two rounds, beyond it more."),
    ),
    "round": (
        marked("Most in one round"),
        marked("Each round’s target. Beyond it the bench is asked for a reason."),
    ),
    "ceiling": (
        marked("Most on the tree, ever"),
        marked("Where this is not enough, we offer a panel."),
    ),
    "kept_mean": (
        marked("Stays of a stretch, after a day"),
        marked("How many rounds we estimate. Your own finished boots correct it."),
    ),
    "kept_sd": (
        marked("Give or take"),
        marked("How far boots differ, until you have finished boots of this leather."),
    ),
    "strain_10mpa": (marked("Strain at 10 MPa"), marked("The load on zipper and seams.")),
    "thickness_from_mm": (
        marked("Thickness, from"),
        marked("The thickness we assume for boots taken in from now on."),
    ),
    "thickness_to_mm": (
        marked("Thickness, to"),
        marked("The thickness we assume for boots taken in from now on."),
    ),
}
FACTOR_WORDS = {
    "cloth_lining": (
        marked("Textile or fleece lining"),
        marked("How much of the leather’s limits such boots get, each round and in all."),
    ),
    "dry_or_old": (
        marked("Dry, or over ten years old"),
        marked("How much of the leather’s limits such boots get, each round and in all."),
    ),
    "prior_stretch": (
        marked("Stretched before, first size unknown"),
        marked("How much of the leather’s limit such boots get in all."),
    ),
    "careful": (
        marked("Careful"),
        marked("How much of the usual limits careful pairs get, each round and in all."),
    ),
}
