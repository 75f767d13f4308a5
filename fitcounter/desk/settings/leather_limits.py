"""The shop's limits as its owner sees and sets them: the handbook's figure beside each, its reason,
and what it changes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from fitcounter.desk.assessment.limits import (
    EVERY,
    FACTOR_SPANS,
    SPANS,
    Span,
    factors_of,
    figures_of,
    of_shop,
)
from fitcounter.desk.common.leather_presets import LEATHERS as NAMES
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.settings.leather_figures import figure_text, read_figure
from fitcounter.desk.settings.leather_words import FACTOR_WORDS, LEATHER_WORDS
from fitcounter.desk.shop import Shop
from fitcounter.errors import Conflict, NotFound
from fitcounter.fit.assessment.materials import HANDBOOK, Own
from fitcounter.fit.handbook.figure import Figure
from fitcounter.fit.handbook.leather import FACTORS, LEATHERS, LIMITS, Leather, figure_name
from fitcounter.store import settings
from fitcounter.store.database import Act, Store, Written


class LeatherLimits(NamedTuple):
    """A leather in the list. ever: its ceiling in percent, "" where it has none; words: its other
    figures in one line;

    own: the shop set some of them; refused: never stretched.
    """

    code: str
    name: str
    ever: str
    words: str
    own: bool
    refused: bool


class LimitField(NamedTuple):
    """One figure of the form.

    usual: the handbook's, as it would be typed; source: its trust word and reason.
    """

    key: str
    label: str
    unit: str
    usual: str
    source: str
    changes: str


class LimitSheet(NamedTuple):
    """The figures of one leather, or of what narrows them all.

    stands: what holds now, as it would be typed.
    """

    code: str
    name: str
    fields: tuple[LimitField, ...]
    stands: dict[str, str]
    version: int


def lines(store: Store) -> list[LeatherLimits]:
    """Every leather of the handbook as it holds here, and last what narrows them all."""
    own = of_shop(store)
    rows = [
        LeatherLimits(
            code, say(NAMES[code]), *_summary(own.row(row)), own.row(row) != row, row.refused
        )
        for code, row in LEATHERS.items()
    ]
    factors = factors_of(own.factors)
    narrowing = "; ".join(
        say(
            "{what}: {percent} %",
            what=say(FACTOR_WORDS[key][0]),
            percent=figure_text(value, _FACTOR),
        )
        for key, value in factors.items()
    )
    return [
        *rows,
        LeatherLimits(
            EVERY,
            say("What lowers the limits"),
            "",
            narrowing,
            own.factors != HANDBOOK.factors,
            False,
        ),
    ]


def sheet(store: Store, code: str) -> LimitSheet:
    """The form of a leather, or of what narrows them all. Raises NotFound."""
    spans, words, usual, now = _known(code, of_shop(store))
    figures = _figures(code)
    fields = tuple(
        LimitField(
            key,
            say(words[key][0]),
            span.unit,
            figure_text(usual[key], span),
            say(
                "{trust}: {source}",
                trust=spoken().known(figures[key].trust),
                source=spoken().known(figures[key].source),
            ),
            say(words[key][1]),
        )
        for key, span in spans.items()
    )
    name = say("What lowers the limits") if code == EVERY else say(NAMES[code])
    return LimitSheet(
        code,
        name,
        fields,
        {key: figure_text(now[key], spans[key]) for key in spans},
        settings.leather_version(store, code),
    )


def keep(
    store: Store, act: Act, shop: Shop, code: str, typed: Mapping[str, str], seen: int | None = None
) -> Written | None:
    """Keeps what was changed, and makes the bench plan anew; None where nothing was. An empty
    figure is the handbook's again.

    seen: the version that was looked at. Raises BadFields with a sentence for each figure that
    cannot be taken; Conflict; NotFound.
    """
    spans, _, usual, now = _known(code, of_shop(store))
    read = _read(code, spans, usual, typed)
    if read == now:
        return None

    def write() -> Written:
        if seen is not None and seen != settings.leather_version(store, code):
            raise Conflict(
                say("Someone changed these figures while you were typing. Check, then save yours.")
            )
        settings.put(
            store,
            settings.LEATHER + code,
            {key: value for key, value in read.items() if value != usual[key]},
        )
        return Written(
            detail={
                "leather": code,
                "figures": {key: value for key, value in read.items() if value != now[key]},
            }
        )

    return store.once(act, "limits", write)


def own_texts(store: Store) -> dict[str, str]:
    """What the shop set, by the name its figure has in the handbook, as the handbook would print
    it.
    """
    own = of_shop(store)
    texts: dict[str, str] = {}
    for code in (*LEATHERS, EVERY):
        _, _, usual, now = _spread(code, own)
        figures = _figures(code)
        texts.update(
            {
                figures[key].name: replace(figures[key], value=now[key]).text
                for key in usual
                if now[key] != usual[key]
            }
        )
    return texts


_FACTOR = FACTOR_SPANS["careful"]
_Known = tuple[
    Mapping[str, Span], Mapping[str, tuple[str, str]], dict[str, float], dict[str, float]
]


def _known(code: str, own: Own) -> _Known:
    """Spans, words, the handbook's figures and those that hold here. Raises NotFound."""
    if code != EVERY and (code not in LEATHERS or LEATHERS[code].refused):
        raise NotFound(say("There is no such leather to set limits for. Pick one from the list."))
    return _spread(code, own)


def _spread(code: str, own: Own) -> _Known:
    if code == EVERY:
        return FACTOR_SPANS, FACTOR_WORDS, factors_of(HANDBOOK.factors), factors_of(own.factors)
    row = LEATHERS[code]
    return SPANS, LEATHER_WORDS, figures_of(row), figures_of(own.row(row))


def _figures(code: str) -> dict[str, Figure]:
    """The handbook's entry of each figure; none of those that a refused leather does not have."""
    entries = {figure.name: figure for figure in LIMITS.figures}
    names = (
        FACTORS if code == EVERY else {key: figure_name(LEATHERS[code].name, key) for key in SPANS}
    )
    return {key: entries[name] for key, name in names.items() if name in entries}


def _summary(row: Leather) -> tuple[str, str]:
    """The ceiling, and the other figures in words."""
    if row.refused:
        return "", say("Never stretched")
    figures = figures_of(row)
    routine, once, ever, kept = (
        figure_text(figures[key], SPANS[key])
        for key in ("routine", "round", "ceiling", "kept_mean")
    )
    return ever, say(
        "usual {routine}\u00a0%, one round {once}\u00a0%, stays {kept}\u00a0%",
        routine=routine,
        once=once,
        kept=kept,
    )


def _read(
    code: str, spans: Mapping[str, Span], usual: Mapping[str, float], typed: Mapping[str, str]
) -> dict[str, float]:
    """Every figure, the handbook's where nothing is typed. Raises BadFields."""
    problems = Problems()
    read: dict[str, float] = {}
    for key, span in spans.items():
        with problems.reading():
            read[key] = read_figure(typed[key], span, key) if typed.get(key) else usual[key]
    problems.raise_any()
    if code != EVERY:
        _check_order(read)
    return read


def _check_order(read: Mapping[str, float]) -> None:
    """A leather goes no further in one round than ever, and is not usually taken further than in
    one round. Raises BadFields.
    """
    problems = Problems()
    if read["round"] > read["ceiling"]:
        problems.add(
            "round", say("Too much for one round: type no more than the most on the tree, ever.")
        )
    elif read["routine"] > read["round"]:
        problems.add(
            "routine", say("Too much for the usual: type no more than the most in one round.")
        )
    if read["thickness_from_mm"] > read["thickness_to_mm"]:
        problems.add(
            "thickness_to_mm", say("Type the thicker figure here, the thinner one under From.")
        )
    problems.raise_any()
