"""Work on a boot beside its stretching: what is to be done, what it waits for, and one state after
another. A boot is ready only when all of it is done.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from fitcounter.desk.common.item_words import named
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.common.usual_work import work_name
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.fit import item_states
from fitcounter.fit.item_names import State
from fitcounter.fit.work_timing import (
    LINE_STATES,
    STRETCHING,
    LineState,
    before_stretching,
    waits_for,
)
from fitcounter.store import items, tickets, works
from fitcounter.store.bench_board import BoardRow
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Item
from fitcounter.store.undos import Writes
from fitcounter.store.works import WorkLine

NOT_HERE = (State.EXPECTED, State.COUNTER, *item_states.GONE)
TO = (LineState.WORKING, LineState.DONE, LineState.NOT_DONE, LineState.WAITING)
LONGEST_NOTE = 200


class WorkSeen(NamedTuple):
    """A job on one boot for its page. waits: what it waits for, in words, "" where it can be
    done.
    """

    line: WorkLine
    name: str
    state: str
    waits: str

    @property
    def words(self) -> str:
        """ "New zipper: to do, after stretching": the job in a line."""
        more = self.waits or self.state
        return say("{work}: {state}", work=self.name, state=more)


class WorkStepInput(NamedTuple):
    """to: a state of a job on a boot. seen: the one that stood on the page, "" for any. note: what
    was found, or why it is not done. anyway: although it waits for something.
    """

    to: str
    seen: str = ""
    note: str = ""
    anyway: bool = False


def seen(item: Item | BoardRow, lines: Sequence[WorkLine]) -> list[WorkSeen]:
    """All work on one boot. lines: in the order of work."""
    return [
        WorkSeen(one, work_name(one.what), say(LINE_STATES[LineState(one.state)]), waits)
        for one in lines
        for waits in [_waits(item, one, lines) if one.is_open else ""]
    ]


def of_item(store: Store, item: Item) -> list[WorkSeen]:
    """The same from the stored rows."""
    return seen(item, works.of_item(store, item.id))


def _waits(item: Item | BoardRow, line: WorkLine, lines: Sequence[WorkLine]) -> str:
    beside = [one.ordered for one in lines if one.id != line.id]
    waits = waits_for(line.ordered, beside, item.work, item.state)
    if not waits:
        return ""
    if waits == STRETCHING:
        return say("after stretching")
    return say("after: {work}", work=work_name(waits))


def set_line(store: Store, act: Act, line_id: int, at: datetime, typed: WorkStepInput) -> Written:
    """One job on one boot begins, is done, is not done after all, or is to be done again.

    at: when, aware UTC. Raises BadInput (field: to, note, anyway), Conflict (somebody was
    quicker), NotFound.
    """
    if typed.to not in TO:
        raise BadInput(say("Pick what becomes of this work."), typed=typed.to, field="to")
    note = typed.note.strip()
    if typed.to == LineState.NOT_DONE and not note:
        raise BadInput(say("Type in a few words why it is not done."), field="note")

    def write() -> Written:
        line = works.line(store, line_id)
        item = items.get(store, line.item_id)
        _check(store, item, line, typed)
        works.set_state(store, act, line_id, typed.to, utc_text(at), note or line.note)
        store.change("items", item.id, item.version)
        number = tickets.get(store, item.ticket_id).number
        state = say(LINE_STATES[LineState(typed.to)])
        words = say(
            "{item}, {work}: {state}.",
            item=named(item.side, item.kind, number),
            work=work_name(line.what),
            state=state,
        )
        return Written(
            item.ticket_id, item.id, words=words, detail={"line": line_id, "to": typed.to}
        )

    return store.once(act, "work-line", write)


def _check(store: Store, item: Item, line: WorkLine, typed: WorkStepInput) -> None:
    """Raises Conflict, BadInput."""
    if typed.seen not in ("", line.state):
        raise Conflict(say("Someone changed this while you were typing. Look, then save again."))
    if item.state in (*NOT_HERE, *item_states.READY):
        words = say("The boot is {state}.", state=say(item_states.WORDS[item.state]))
        raise Conflict(words, ticket_id=item.ticket_id)
    goes = typed.to in (LineState.WORKING, LineState.DONE) and line.is_open
    waits = _waits(item, line, works.of_item(store, item.id)) if goes else ""
    if waits and not typed.anyway:
        words = say("This comes {when}. Tick this if it is done now all the same.", when=waits)
        raise BadInput(words, field="anyway")


def first_done(store: Store, act: Act, writes: Writes, item: Item, step_input: StepInput) -> None:
    """Before a boot goes on a tree. Raises OutOfOrder where something is to be done first; saved
    again with catch_up it is done.
    """
    lines = works.of_item(store, item.id)
    first = before_stretching(one.ordered for one in lines)
    if not first:
        return
    if not step_input.catch_up:
        listed = spoken().listed([work_name(one) for one in first])
        words = say("Before stretching comes: {work}. Is it done?", work=listed)
        raise OutOfOrder(words, field="catch_up")
    _done(act, writes, [one for one in lines if one.is_open and one.what in first], step_input)


def all_done(store: Store, act: Act, writes: Writes, item: Item, step_input: StepInput) -> None:
    """Before a boot counts as finished or ready. Raises OutOfOrder where work on it is open; saved
    again with catch_up it is done.
    """
    lines = works.open_of_item(store, item.id)
    if lines and not step_input.catch_up:
        raise OutOfOrder(still_open(lines), field="catch_up")
    _done(act, writes, lines, step_input)


def done_with(store: Store, act: Act, item: Item, at: datetime) -> None:
    """Work on an item that leaves as ready is done, although nobody saved it, inside a write.

    What goes back undone keeps its own answer.
    """
    if item.state != State.DECLINED:
        for one in works.open_of_item(store, item.id):
            works.set_state(store, act, one.id, LineState.DONE, utc_text(at), one.note)


def still_open(lines: Sequence[WorkLine]) -> str:
    """The question about work that is open."""
    listed = spoken().listed([work_name(one.what) for one in lines])
    return say("Not saved as done: {work}. Is it done?", work=listed)


def _done(act: Act, writes: Writes, lines: Sequence[WorkLine], step_input: StepInput) -> None:
    for one in lines:
        at = utc_text(step_input.happened_at)
        writes.change("work_lines", one.id, state=LineState.DONE, since=at, staff_id=act.staff_id)
