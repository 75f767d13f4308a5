"""What the bench sees on a boot, at any time.

Damage stops the boot at once, tells the counter, and opens a record of it.
"""

from __future__ import annotations

from dataclasses import replace

from fitcounter.desk.bench.incident_steps import write_stop
from fitcounter.desk.common.condition import SIGHTS
from fitcounter.desk.common.item_steps import StepInput, skipped, write_step
from fitcounter.errors import BadInput
from fitcounter.fit.assessment.course import DAMAGE
from fitcounter.store import findings, items, rounds
from fitcounter.store.bench_records import Round
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.undos import Writes

DAMAGE_WORDS = {
    "grain-whitening": "the grain whitens",
    "stitch-holes": "stitch holes open",
    "zip-gaping": "the zip gapes",
    "lining-tearing": "the lining tears",
    "lasting-wave": "a wave above the sole",
}
OTHER_WORDS = {
    code: SIGHTS[code].words
    for code in (
        "zip-worn",
        "scuffs",
        "stain",
        "dye-rub",
        "worn-lining",
        "loose-heel",
        "dry-leather",
    )
}
WORDS = {**DAMAGE_WORDS, **OTHER_WORDS}


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

    word: one of WORDS. A word of DAMAGE stops the boot in the same write, whatever its state; place
    and note are free words.
    """
    if word not in WORDS:
        raise BadInput("Pick what you saw from the list.", field="word", typed=word)

    def write() -> Written:
        item = items.get(store, item_id)
        moment, round_n = _moment(rounds.last(store, item_id))
        writes = Writes(store, item, step_input.columns)
        row_id = findings.add(store, act, item_id, word, moment, round_n, place, note)
        writes.made("findings", row_id)
        if word not in DAMAGE or item.state == "stopped":
            return Written(item.ticket_id, item_id, row_id, "Kept", {"finding": word})
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
    return WORDS.get(word) or (SIGHTS[word].words if word in SIGHTS else word.replace("-", " "))
