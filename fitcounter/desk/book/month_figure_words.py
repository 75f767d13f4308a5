"""What the owner's figures and their parts are called."""

from __future__ import annotations

from fitcounter.desk.common.leather_presets import LEATHERS
from fitcounter.desk.common.thing_names import NAMES
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.common.usual_work import work_name
from fitcounter.desk.tickets.till import words_of

TITLES = {
    "payments": marked("Payments"),
    "refunds": marked("Refunds"),
    "tips": marked("Tips"),
    "work": marked("Work billed"),
    "leather": marked("Work billed, by leather"),
    "tax": marked("Tax"),
    "held": marked("Paid in advance"),
    "owed": marked("Still owed to the shop"),
    "to-give-back": marked("To give back"),
    "taken": marked("Taken in"),
    "picked-up": marked("Picked up"),
    "open": marked("Open at the end"),
    "ready": marked("Days from taken in to ready"),
    "home": marked("Days from taken in to picked up"),
    "promised": marked("With a promised day"),
    "kept": marked("Promised day kept"),
    "late": marked("Ready after the promised day"),
    "trees": marked("Days on the trees"),
}
# What is so now, whatever days are asked about.
NOW = ("held", "owed", "to-give-back")
MONEY = ("payments", "refunds", "tips", "work", "leather", "tax", *NOW)
DAYS = ("ready", "home", "promised", "kept", "late", "trees")
_PARTS = {
    "stretching": marked("Stretching"),
    "less": marked("Discounts and work not done"),
    "rush": marked("Rush job"),
    "other": marked("Typed in words"),
    "things": marked("No boots"),
    "on top": marked("On top of the prices"),
    "within": marked("In the prices"),
    "several": marked("Boots of several leathers"),
}


def group_words(name: str, grp: str) -> str:
    """What a part of a figure is called. name: of the figure; grp: as the file groups it."""
    if grp in _PARTS:
        return say(_PARTS[grp])
    kind, _, what = grp.partition(":")
    if kind == "work":
        return work_name(what)
    if kind == "kind":
        return say(NAMES[what, None])
    if name == "leather":
        return say(LEATHERS.get(grp, grp))
    if name == "trees":
        return say("tree {tree}", tree=grp)
    return words_of(grp)
