"""What may happen with these boots, in sentences chosen from what they are and what we saw. Our own
words, versioned.

Not legal advice: the owner checks them against local rules. None of them says that the shop answers
for nothing.
"""

from __future__ import annotations

import json
from collections.abc import Sequence

from fitcounter.desk.common.condition import say
from fitcounter.store.records import Finding, Item

TEXT_VERSION = "2026-2"

ALWAYS = (
    (
        "Leather keeps only part of each stretch and may go back a little, above all if the boots"
        " are not worn in as the calendar says."
    ),
    "We can make boots wider, not longer.",
    (
        "We stop when the leather, a seam or the zip shows that it has had enough; then you pay for"
        " the goes that were done."
    ),
    "You may have your boots back at any point.",
)
NO_BOOTS = "You may have your things back at any point."
_BY_LINING = {
    "leather": "The lining may crease where it gives.",
    "textile": "A cloth lining hardly gives and may pull or tear.",
    "fleece": "A fleece lining hardly gives and may pull or flatten.",
}
_BY_CLOSURE = {
    "zip": (
        "The zip or its stitching may give way; a new zip is priced apart, and we call you first."
    ),
    "laces": "Eyelets may pull out of line.",
    "straps": "Straps and buckles may need to be set again.",
    "pull-on": "The ankle and heel will hold a little more loosely if the throat is widened.",
}
_BY_MATERIAL = {
    "corrected-grain": (
        "A heavy finish may crack before the leather under it gives; cracks cannot be undone."
    ),
    "nubuck": "The nap may darken or shine where the tree or a liquid touches it.",
    "split-suede": "The nap may darken or shine where the tree or a liquid touches it.",
    "oiled": "The colour moves with the oil and may stay lighter where the leather gives most.",
    "vegetable-tanned": "The colour may darken where the leather was damp.",
    "exotic": "Scales and quills may lift or crack; cracks cannot be undone.",
    "goat": "Thin leather may open at the stitch holes.",
    "sheep": "Thin leather may open at the stitch holes or tear.",
    "unknown": "We do not know for certain what this leather is, and go carefully.",
}
_GRAIN = (
    "The grain may pale or mark where the leather gives most, or where a pad or a liquid"
    " touches it."
)
_BY_FINDING = {
    "zip-worn": "The zip is worn already and may not stand the pull.",
    "zip-damaged": "The zip is damaged and has to be mended before anything else.",
    "open-seam": "A seam is open and has to be sewn before anything else.",
    "elastic-tired": (
        "The elastic is tired; it takes no part in the stretch and may want replacing."
    ),
    "dye-rub": "The colour rubs off already and may do so more.",
    "stain": "Marks that are there may show more.",
    "scuffs": "Marks that are there may show more.",
    "worn-lining": "The lining is worn already and may tear further.",
    "dry-leather": "Dry or old leather may crack although it is fed first.",
    "prior-stretch": "These boots were stretched before, and may have little left to give.",
    "loose-heel": "Heel or sole are loose already; stretching the foot could part them.",
}


def sentences(items: Sequence[Item], seen: Sequence[Finding]) -> list[str]:
    """The sentences for the boots of a ticket, each once: what we saw first, then what they are
    made of, then what is always so.
    """
    boots = [item for item in items if item.work == "stretch"]
    if not boots:
        return [NO_BOOTS]
    chosen = [_BY_FINDING[one.word] for one in seen if one.word in _BY_FINDING]
    for boot in boots:
        chosen += [
            _GRAIN,
            _BY_MATERIAL.get(boot.material, ""),
            _BY_CLOSURE.get(boot.closure, ""),
            _BY_LINING.get(boot.lining, ""),
        ]
    return [one for one in dict.fromkeys([*chosen, *ALWAYS]) if one]


def every_sentence() -> set[str]:
    """All that a consent may say, for the catalogues of other languages."""
    tables = (_BY_LINING, _BY_CLOSURE, _BY_MATERIAL, _BY_FINDING)
    return {_GRAIN, NO_BOOTS, *ALWAYS, *(one for table in tables for one in table.values())}


def noted(items: Sequence[Item], seen: Sequence[Finding]) -> list[str]:
    """What we saw, a line each: Left: zip worn, at the top."""
    sides = {item.id: (item.side or item.description).capitalize() for item in items}
    return [
        f"{sides[one.item_id]}: {say(one.word)}{', ' + one.place if one.place else ''}"
        for one in seen
    ]


def kept(sentences_json: str) -> list[str]:
    """The sentences of a consent as stored."""
    return [str(one) for one in json.loads(sentences_json)]
