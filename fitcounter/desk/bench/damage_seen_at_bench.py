"""What the bench sees on a boot, at any time.

Damage stops the boot at once, tells the counter, and opens a record of it.
"""

from __future__ import annotations

from dataclasses import replace

from fitcounter.desk.bench.incidents import write_stop
from fitcounter.desk.common import seen_at_intake, translation
from fitcounter.desk.common.seen_at_intake import OF_STRETCHING, SIGHTS
from fitcounter.desk.common.state_changes import StepInput, skipped, write_step
from fitcounter.errors import BadInput
from fitcounter.store import findings, items, rounds
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.undos import Writes

# Each stops the boot. Called and ordered as at the counter (`desk/common/seen_at_intake.py`), then
# what only stretching does; anything else that went wrong is told in words.
FAULTS = {
    "leather-cracked": SIGHTS["cracked-grain"].words,
    "seam-split": SIGHTS["open-seam"].words,
    "zip-off": SIGHTS["zip-damaged"].words,
    "zip-gaping": SIGHTS["zip-gapes"].words,
    "elastic-torn": SIGHTS["elastic-tired"].words,
    "lining-tearing": SIGHTS["lining-torn"].words,
    "lasting-wave": SIGHTS["sole-wave"].words,
    "stained": SIGHTS["stain"].words,
    **OF_STRETCHING,
}
OTHER_WORDS = {
    code: SIGHTS[code].words
    for code in (
        "zip-worn",
        "scuffs",
        "dye-rub",
        "worn-lining",
        "loose-heel",
        "dry-leather",
    )
}
WORDS = {**FAULTS, **OTHER_WORDS}


def see(
    store: Store,
    act: Act,
    item_id: int,
    step_input: StepInput,
    word: str,
    place: str = "",
    note: str = "",
) -> Written:
    """Keeps a finding with its place, in the round it was seen in. Raises BadInput for no word.

    word: one of WORDS. A word of FAULTS stops the boot in the same write, whatever its state; place
    and note are free words.
    """
    if word not in WORDS:
        raise BadInput(
            translation.say("Pick what you saw from the list."), field="word", typed=word
        )

    def write() -> Written:
        item = items.get(store, item_id)
        when = _moment(rounds.last(store, item_id))
        writes = Writes(store, item, step_input.columns)
        seen = replace(act, at=step_input.happened_at)  # not when a phone could send it
        row_id = findings.add(store, seen, item_id, word, when, place=place, note=note)
        writes.made("findings", row_id)
        if word not in FAULTS or item.state == "stopped":
            return Written(
                item.ticket_id, item_id, row_id, translation.say("Saved"), {"finding": word}
            )
        missed = skipped(item, "stop", step_input.catch_up)
        detail = write_stop(act, writes, step_input.happened_at, WORDS[word], place)
        writes.keep("stop")
        stop = replace(step_input, detail={**detail, "finding": word}, columns={})
        return write_step(store, act, item, "stop", stop, missed)

    return store.once(act, "finding", write)


def _moment(last: Round | None) -> tuple[str, int | None]:
    """When it was seen: in a round and which, after the last one, or before any."""
    if last is None:
        return "before", None
    return ("after", None) if last.outcome else ("round", last.n)


def say(word: str) -> str:
    """A finding in the words of the shop."""
    if word in WORDS:
        return translation.say(WORDS[word])
    return seen_at_intake.say(word)
