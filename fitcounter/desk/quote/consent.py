"""What may happen with these boots, in sentences chosen from what they are and what we saw. Our own
words, versioned.

Not legal advice: the owner checks them against local rules. None of them says that the shop answers
for nothing.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from itertools import chain
from types import MappingProxyType

from fitcounter.desk.common import seen_at_intake
from fitcounter.desk.common.translation import Speech, marked
from fitcounter.store import findings
from fitcounter.store.database import Store
from fitcounter.store.records import Finding, Item

TEXT_VERSION = "2026-4"
KEPT_IN = Speech("en")  # whatever language the shop speaks, so that it can be said in any later

ALWAYS = (
    (
        marked(
            "Leather keeps only part of each stretch. It may shrink back a little, above all if"
            " you skip the wear calendar."
        )
    ),
    marked("We can make boots wider, not longer."),
    (
        marked(
            "We stop when the leather, a seam or the zipper has had enough. You then pay for the"
            " rounds done."
        )
    ),
    marked("You can have your boots back at any time."),
)
# A panel is cut and sewn in: common practice, no source.
PANEL = (
    marked("To set a panel in, we open a seam or cut the shaft. It cannot be made as it was."),
    marked("The panel shows. Its color, grain and age will not match the boot exactly."),
    marked("Stitch holes of the old seam may stay visible."),
    marked("Until we cut, you can have your boots back as they are."),
)
ELASTIC = (
    marked("To set elastic in, we open a seam or cut the shaft. It cannot be made as it was."),
    marked("The elastic shows, and tires after some years. New elastic costs extra."),
)
BESIDE_THE_ZIP = (
    marked("The zipper comes out and is sewn in again. If it fails, a new one costs extra."),
    marked("The strip shows. Its color, grain and age will not match the boot exactly."),
)
# By what is let in, its key in the list of work.
SEWN_IN = {
    "panel": PANEL,
    "elastic-gusset": (*ELASTIC, *PANEL[2:]),
    "zip-gusset": (*BESIDE_THE_ZIP, *PANEL[2:]),
}
NONE_SEWN: Mapping[int, str] = MappingProxyType({})
NO_BOOTS = marked("You can have your items back at any time.")
_BY_LINING = {
    "leather": marked("The lining may crease where it stretches."),
    "textile": marked("A cloth lining hardly stretches. It may pull or tear."),
    "fleece": marked("A fleece lining hardly stretches. It may pull or flatten."),
}
_BY_CLOSURE = {
    "zip": (
        marked(
            "The zipper or its stitching may fail. A new zipper costs extra, and we call you first."
        )
    ),
    "laces": marked("Eyelets may pull out of line."),
    "straps": marked("Straps and buckles may need to be reset."),
    "pull-on": marked("If the opening is widened, ankle and heel will fit a little looser."),
}
_BY_MATERIAL = {
    "corrected-grain": (
        marked("A heavy finish may crack before the leather stretches. Cracks cannot be repaired.")
    ),
    "nubuck": marked("The nap may darken or shine where the stretcher or a liquid touches it."),
    "split-suede": marked(
        "The nap may darken or shine where the stretcher or a liquid touches it."
    ),
    "oiled": marked(
        "The color moves with the oil. It may stay lighter where the leather stretches most."
    ),
    "vegetable-tanned": marked("The color may darken where the leather was damp."),
    "exotic": marked("Scales and quills may lift or crack. Cracks cannot be repaired."),
    "goat": marked("Thin leather may open at the stitch holes."),
    "sheep": marked("Thin leather may open at the stitch holes or tear."),
    "unknown": marked("We are not sure what this leather is, so we go carefully."),
}
_GRAIN = marked(
    "The surface may go pale or get marks where it stretches most, or where a pad or liquid"
    " touches it."
)
_BY_FINDING = {
    "zip-worn": marked("The zipper is already worn. It may not stand the pull."),
    "zip-damaged": marked("The zipper is damaged. It must be repaired first."),
    "open-seam": marked("A seam is open. It must be sewn first."),
    "elastic-tired": (
        marked("The elastic is worn out. It does not stretch along and may need replacing.")
    ),
    "zip-gapes": marked("The zipper is damaged. It must be repaired first."),
    "lining-torn": marked("The lining is already torn. It may tear further."),
    "sole-wave": marked("There is a wave above the sole already. It may not go away."),
    "dye-rub": marked("The color already rubs off. It may rub off more."),
    "stain": marked("Marks that are there now may show more."),
    "scuffs": marked("Marks that are there now may show more."),
    "worn-lining": marked("The lining is already worn. It may tear further."),
    "dry-leather": marked("Dry or old leather may crack, even though we condition it first."),
    "prior-stretch": marked(
        "These boots were stretched before. They may have little left to give."
    ),
    "loose-heel": marked("Heel or sole is already loose. Stretching the foot could part them."),
}


def sentences(
    items: Sequence[Item], seen: Sequence[Finding], paneled: Mapping[int, str] = NONE_SEWN
) -> list[str]:
    """The sentences for the boots of a ticket, each once: what we saw first, then what they are
    made of, then what is always so.

    paneled: what is let in in place of stretching, by fit.
    """
    boots = [item for item in items if item.work == "stretch"]
    if not boots:
        return [NO_BOOTS]
    stretched = [boot for boot in boots if boot.fit_id not in paneled]
    chosen = [_BY_FINDING[one.word] for one in seen if one.word in _BY_FINDING]
    for boot in stretched:
        chosen += [
            _GRAIN,
            _BY_MATERIAL.get(boot.material, ""),
            _BY_CLOSURE.get(boot.closure, ""),
            _BY_LINING.get(boot.lining, ""),
        ]
    sewn = [SEWN_IN[paneled[fit]] for boot in boots if (fit := boot.fit_id or 0) in paneled]
    always = (*chain.from_iterable(sewn), *(ALWAYS if stretched else ()))
    return [one for one in dict.fromkeys([*chosen, *always]) if one]


def looked_at(store: Store, items: Sequence[Item]) -> bool:
    """Whether somebody looked for damage: only at boots to be stretched, when they were taken in
    here.
    """
    boots = [one for one in items if one.fit_id is not None]
    if not boots:
        return False
    later = findings.not_looked_at(store, boots[0].ticket_id)
    return not any(one.id in later for one in boots)


def noted(items: Sequence[Item], seen: Sequence[Finding], words: Speech = KEPT_IN) -> list[str]:
    """What we saw, a line each: Left boot: zipper worn or stiff, at the top. words: the language;
    what is kept is in English, as the sentences are.
    """
    names = {item.id: _name(item, words) for item in items}
    return [
        words.say(
            "{item}: {seen}",
            item=names[one.item_id],
            seen=", ".join(
                part for part in (words.known(seen_at_intake.say(one.word)), one.place) if part
            ),
        )
        for one in seen
    ]


def _name(item: Item, words: Speech) -> str:
    if item.side:
        return words.say("Left boot") if item.side == "left" else words.say("Right boot")
    return item.description.capitalize()


def kept(sentences_json: str) -> list[str]:
    """The sentences of a consent as stored."""
    return [str(one) for one in json.loads(sentences_json)]
