"""Which boot may be worn, where only one is at home or the calendar is for one alone."""

from __future__ import annotations

from collections.abc import Sequence

from fitcounter.desk.common.translation import Speech, marked
from fitcounter.fit import item_states
from fitcounter.fit.wear.wear_plan import WearPlan
from fitcounter.store.records import Item

ALONE = {
    "left": marked("This calendar is for your left boot alone."),
    "right": marked("This calendar is for your right boot alone."),
}
WEAR = {
    "left": marked("Your left boot: wear it as the calendar says."),
    "right": marked("Your right boot: wear it as the calendar says."),
}
LEAVE = {
    "left": marked("Your left boot: leave it off until both are at home."),
    "right": marked("Your right boot: leave it off until both are at home."),
}
AT_SHOP = {
    "left": marked("Your left boot: at the shop."),
    "right": marked("Your right boot: at the shop."),
}
OFF_FOR_NOW = marked("Boots off until both boots are at home.")


def boot_lines(things: Sequence[Item], plan: WearPlan | None, words: Speech) -> tuple[str, ...]:
    """A sentence for each boot of a pair of which one is at home; none where both are, or none.

    plan: the calendar, None before it begins.
    """
    boots = [one for one in things if one.work == "stretch" and one.state != "declined"]
    home = [one for one in boots if one.state in item_states.GONE]
    if not home or len(home) == len(boots):
        return (words.say(ALONE[plan.boots]),) if plan and plan.boots in ALONE and home else ()
    runs = plan is not None and bool(plan.to_come) and plan.held_since is None
    return tuple(words.say(_of(boot, home, plan if runs else None)) for boot in boots)


def called_off(things: Sequence[Item], plan: WearPlan, words: Speech) -> str:
    """What stands instead of a calendar whose wears were withdrawn, "" where it runs or ended."""
    here = any(one.work == "stretch" and one.state not in item_states.GONE for one in things)
    off = any(wear.state == "off" for wear in plan.wears)
    return words.say(OFF_FOR_NOW) if here and off else ""


def _of(boot: Item, home: Sequence[Item], plan: WearPlan | None) -> str:
    side = boot.side or "right"
    if boot not in home:
        return AT_SHOP[side]
    return WEAR[side] if plan and plan.boots in ("", side) else LEAVE[side]
