"""Measured: another round, or done? What was kept, what it is short by, and what each way means,
with its tree, its days and its odds.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from fitcounter.desk.assessment.standing import Standing
from fitcounter.desk.bench.item_page import Look
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.translation import say, spoken, told
from fitcounter.desk.shop import Shop
from fitcounter.fit import item_states
from fitcounter.fit.assessment.words import odds_in_ten, rounds_sentence
from fitcounter.fit.handbook.shop import FINISHING_DAYS
from fitcounter.fit.item_names import State
from fitcounter.store import bench_days, plans, trees, works
from fitcounter.store.database import Store


class Way(NamedTuple):
    """One way on. step: that it saves; words: whole sentences of what it means."""

    step: item_states.Step
    words: str


class Decision(NamedTuple):
    """lead: what the last round kept and what is short now, in whole sentences. again: a second
    reading comes first, as it could turn done into not done, or back.

    ways: the better one first; another round is left out where a rule says to stop.
    """

    lead: str
    again: bool
    ways: tuple[Way, ...]


def decision(store: Store, shop: Shop, look: Look, today: date) -> Decision | None:
    """None where nothing is to be decided or the boot has no figures. today: the shop's own day."""
    found, shown = look.found, look.figures
    if look.item.state != State.TO_DECIDE or found is None or shown is None:
        return None
    if look.unsettled or look.back:
        return None
    done = Way(item_states.STEPS["done"], _done(store, shop, look, today))
    ways = [done]
    if not found.done and not shown.stops:
        another = Way(item_states.STEPS["another-round"], _another(store, look, found, today))
        ways.insert(0, another)
    need = _sentence(shown.need)
    lead = f"{shown.kept} {need}" if shown.kept else need
    return Decision(lead, shown.again, tuple(ways))


def _done(store: Store, shop: Shop, look: Look, today: date) -> str:
    """When the boot could be ready where nothing more is stretched."""
    _, after = works.days_of(store).get(look.item.id, (0, 0))
    ready = today + timedelta(days=FINISHING_DAYS + after)
    return _could_be_ready(shop_days.of_shop(store, shop).next_open(ready))


def _another(store: Store, look: Look, found: Standing, today: date) -> str:
    """Its tree and days, when it could be ready, and the chance that one round more is enough."""
    said = [_on_tree(store, look, today)]
    kept = bench_days.of_tickets(store, [look.ticket.id]).get(look.item.id)
    if kept is not None and kept.ready_day:
        said.append(_could_be_ready(date.fromisoformat(kept.ready_day)))
    said.append(_chance(found))
    return " ".join(filter(None, said))


def _on_tree(store: Store, look: Look, today: date) -> str:
    planned = next(
        (one for one in plans.of_item(store, look.item.id) if one.kind == "planned"), None
    )
    if planned is None:
        return say("No tree is booked for it yet.")
    words, first = spoken(), date.fromisoformat(planned.from_day)
    known = {
        "tree": trees.get(store, planned.tree_id).label,
        "last": words.day(date.fromisoformat(planned.to_day)),
    }
    if first <= today:
        return say("Tree {tree} from today until {last}.", **known)
    return say("Tree {tree} from {first} until {last}.", first=words.day(first), **known)


def _chance(found: Standing) -> str:
    """ "7 in 10: one more is enough.", or how many rounds where one hardly will do."""
    course = found.verdict.course
    if course is None:
        return ""
    if course.odds.likely == 1:
        chance = odds_in_ten(course.odds.within(1), course.stand.kept.boots)
        return say("{chance}: one more is enough.", chance=told(chance))
    return _sentence(told(rounds_sentence(course.odds)))


def _could_be_ready(day: date) -> str:
    return _sentence(say("could be ready {day}", day=spoken().day(day)))


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."
