"""What the shop's file holds in our English, said in her language on her papers: things, price
lines, what we saw, how it was paid.

Only our own sentences are known; what somebody typed stays as it was typed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from babel.dates import get_day_names

from fitcounter.desk.common import condition
from fitcounter.desk.common.translation import Speech
from fitcounter.desk.quote import consent
from fitcounter.desk.shop import Shop
from fitcounter.papers import records as paper
from fitcounter.store.records import Item

_GOES = re.compile(r"up to (\d+) goes$")
_BOOTS = ("the pair", "the left boot", "the right boot")
LINES = tuple(
    sentence.format(boots=boots, n="{n}")
    for sentence in (
        "Stretching {boots}, one go",
        "Stretching {boots}, up to {n} goes",
        "A panel for {boots}",
    )
    for boots in _BOOTS
)
NAMES = {
    ("boot", "left"): "Left boot",
    ("boot", "right"): "Right boot",
    ("shoe", None): "Shoes",
    ("bag", None): "Bag",
    ("belt", None): "Belt",
    ("glove", None): "Gloves",
    ("other", None): "Other work",
}
PAID = {"deposit": "Deposit", "payment": "Paid", "refund": "Given back", "correction": "Correction"}
OVER = {
    "skin": "bare leg",
    "sheer": "stockings",
    "sock": "socks",
    "breeches": "breeches",
    "jeans": "jeans tucked in",
}
POSTURE = {"standing": "standing", "seated": "seated"}
TOLD = {
    "called": "we called and you knew, {day}",
    "left-word": "we left word, {day}",
    "no-answer": "we called and nobody answered, {day}",
    "text": "we sent a text, {day}",
    "e-mail": "we sent an e-mail, {day}",
    "letter": "we sent a letter, {day}",
}
_KIND = re.compile(r"(?:^|\s+)(?:(?:tall|knee|riding|field|lace) )?boots$", re.IGNORECASE)


def ours() -> set[str]:
    """Every sentence this module may say that stands in no `say()` call: what a catalogue must
    have.
    """
    findings = {one.words for one in condition.SIGHTS.values()}
    listed = (*LINES, *PAID.values(), *OVER.values(), *POSTURE.values(), *TOLD.values())
    return {*listed, *findings, *consent.every_sentence()}


def price_line(what: str, words: Speech) -> str:
    """A price line of ours in her language; one that was typed as it is."""
    found = _GOES.search(what)
    sentence = what[: found.start(1)] + "{n}" + what[found.end(1) :] if found else what
    return words.say(sentence, n=found[1] if found else "") if sentence in LINES else what


def item_lines(held: Sequence[Item], words: Speech) -> tuple[paper.ItemLine, ...]:
    """What was handed in: a pair is one line of two single things."""
    lines, pairs = [], set()
    for item in held:
        if item.fit_id is None:
            lines.append(
                paper.ItemLine(
                    item.description or words.say(NAMES.get((item.kind, None), "Other work")),
                    1,
                    item.jobs,
                )
            )
        elif item.fit_id not in pairs:
            pairs.add(item.fit_id)
            both = [one for one in held if one.fit_id == item.fit_id]
            lines.append(paper.ItemLine(_boots(both, words), len(both)))
    return tuple(lines)


def _boots(both: Sequence[Item], words: Speech) -> str:
    """A pair or one boot, and how the shop tells it apart; what that says already is said once, and
    in her language.
    """
    own = both[0].description.strip()
    if len(both) == 2 and words.code == "en" and _KIND.search(own):
        return own
    what = words.say("tall boots") if len(both) == 2 else words.say(NAMES["boot", both[0].side])
    return f"{what}, {_KIND.sub('', own)}".removesuffix(", ")


def head(shop: Shop, words: Speech) -> paper.Shop:
    """The head of every paper."""
    names = get_day_names("wide", locale=words.code)
    days = sorted(shop.open_days)
    hours = {"opens": shop.opens_at, "closes": shop.closes_at}
    if days == list(range(days[0], days[-1] + 1)) and len(days) > 2:
        said = words.say(
            "{first} to {last}, {opens} to {closes}",
            first=names[days[0]],
            last=names[days[-1]],
            **hours,
        )
    else:
        said = words.say(
            "{days}, {opens} to {closes}", days=", ".join(names[one] for one in days), **hours
        )
    return paper.Shop(shop.name, shop.phone, shop.address, said)
