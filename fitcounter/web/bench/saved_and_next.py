"""What is true of an item once a step is saved, and what comes next, in one line."""

from __future__ import annotations

from collections.abc import Callable

from fitcounter.desk.bench.another_round_or_done import Decision
from fitcounter.desk.bench.item_page import Look
from fitcounter.desk.common import item_words
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.shop import Shop
from fitcounter.fit.item_names import State, Work
from fitcounter.web.pages.filters import day, local_day, moment, short_day

# States with nothing more to say than what comes next.
_LINES = {
    State.PREPARED: marked("{item} is prepared. Next: put on a tree."),
    State.WORKING: marked("{item} is on the bench. Next: put on the shelf when done."),
    State.FINISHING: marked("{item} is stretched. Next: finish."),
    State.FINISHED: marked("{item} is finished. Next: put on the shelf."),
    State.WAITING: marked("{item} is on hold. Next: continue the work."),
}


def saved_line(look: Look, shop: Shop, step: str, asked: Decision | None = None) -> str:
    """ "Left 31 is on tree 10 until Sat, Dec 5." step: the one just saved; asked: what is to be
    decided now.
    """
    name = item_words.named(look.item.side, look.item.kind, look.number)
    if step == "finding" and look.item.state != State.STOPPED:
        return say("What you saw on {item} is saved.", item=name)
    if step == "pickup-day":
        return _pickup_day(look, shop)
    state = look.item.state
    if step == "measure-again" and state == State.RESTING and look.measure_on is not None:
        return say(
            "{item} was measured too early: that does not count. Measure again from {moment} on.",
            item=name,
            moment=moment(look.measure_on, shop.zone),
        )
    if state == State.TO_DECIDE:
        return _to_decide(look, asked, name)
    if state in _LINES:
        return say(_LINES[state], item=name)
    if state in _WRITERS:
        return _WRITERS[state](look, shop, name)
    return say("{item}: {state}.", item=name, state=item_words.state_word(state))


def _pickup_day(look: Look, shop: Shop) -> str:
    on = look.ticket.pickup_day
    if not on:
        return say("Ticket {number} has no pickup day now.", number=look.number)
    words = day(on)
    return say("Pickup day of ticket {number}: {day}.", number=look.number, day=words)


def _queued(look: Look, shop: Shop, name: str) -> str:
    if look.item.work == Work.OTHER:
        return say("{item} is waiting for the bench. Next: start the work.", item=name)
    return say("{item} is waiting for the bench. Next: prepare, or put on a tree.", item=name)


def _on_tree(look: Look, shop: Shop, name: str) -> str:
    running = look.running
    if running is None or not running.tree or look.comes_off is None:
        return say("{item} is on a tree.", item=name)
    until = short_day(local_day(look.comes_off, shop.zone))
    return say("{item} is on tree {tree} until {day}.", item=name, tree=running.tree, day=until)


def _resting(look: Look, shop: Shop, name: str) -> str:
    if look.measure_on is None:
        return say("{item} is resting. Next: measure again.", item=name)
    until = moment(look.measure_on, shop.zone)
    return say("{item} is resting until {moment}. Next: measure again.", item=name, moment=until)


def _to_decide(look: Look, asked: Decision | None, name: str) -> str:
    girth = look.rounds[-1].row.rested_text if look.rounds else ""
    if not girth or asked is None:
        return say("{item} is measured. Another round, or done?", item=name)
    return f"{say('{item} reads {girth}.', item=name, girth=girth)} {asked.lead}"


def _stopped(look: Look, shop: Shop, name: str) -> str:
    if not look.stopped_by:
        return say("{item} is stopped. Next: tell the customer, then fix or agree.", item=name)
    return say(
        "{item} is stopped: {what}. Next: tell the customer, then fix or agree.",
        item=name,
        what=look.stopped_by,
    )


def _shelved(look: Look, shop: Shop, name: str) -> str:
    if not look.item.shelf:
        return say("{item} is ready.", item=name)
    return say("{item} is ready on shelf {shelf}.", item=name, shelf=look.item.shelf)


_WRITERS: dict[str, Callable[[Look, Shop, str], str]] = {
    State.QUEUED: _queued,
    State.ON_TREE: _on_tree,
    State.RESTING: _resting,
    State.SHELVED: _shelved,
    State.STOPPED: _stopped,
}
