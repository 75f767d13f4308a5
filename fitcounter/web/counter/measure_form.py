"""The measuring form: how the pair was read, and the texts of the sheet's cells."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import chain, product
from typing import Any

from flask import request
from wtforms import Field, HiddenField
from wtforms.form import BaseForm

from fitcounter.desk.common.translation import say
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.measuring.page import MeasurePage
from fitcounter.desk.measuring.sheet import (
    MOST_REPEATS,
    READS,
    Row,
    Sheet,
    SheetLine,
    cell_name,
    read_again,
)
from fitcounter.web.counter.how_read_fields import HOW_READ, UNTICKED, WORDS
from fitcounter.web.counter.measure_words import LENGTHS, NAMES_OF_CELLS, STATIONS
from fitcounter.web.forms.fields import Picked
from fitcounter.web.forms.saved_form import SavedForm, SentTwice, TextField, clean

_ROWS = re.compile(  # of names, one a line
    r"^(?:height|(?:leg|gap|amount|boot)_(?:left|right))_([0-9]{1,2})(?:_[0-9])?$", re.MULTILINE
)
MOST_OWN = 8
MORE_OWN = 2
MOST_TYPED = 64
MOST_OF_TERM = 24
KINDS = ("leg", "gap", "amount", "boot")
TERMS = Terms._fields
OF_LEGS = (
    "posture",
    "over",
    "layer",
    "part_of_day",
    "marked",
    "on_block",
    "ease",
    "rise",
    "heel_left",
    "heel_right",
)


class MeasureForm(SavedForm):
    """The sheet, and how it was read.

    texts: what stands in every length of the sheet by its name, as sent or else as stored; chosen:
    the same for what is picked and ticked. One becomes a field when something is wrong with it, or
    the page shows it: seventy fields cost more than all the rest of a save.
    """

    target = HiddenField()

    def __init__(self, page: MeasurePage) -> None:
        held = {"version": str(page.fit.version), "target": page.target}
        self.heights = [line.height for line in page.lines]
        stored = {
            **page.cells,
            **{f"height_{row}": line.height for row, line in enumerate(page.lines)},
            **page.terms._asdict(),
        }
        sent = _came()
        self.texts = _texts(sent, (*LENGTHS, *_names(page)), stored)
        stored["unit"] = page.fit.unit
        self.chosen = {name: _chosen(sent, name, stored[name]) for name in HOW_READ}
        super().__init__(data=held)
        for row, line in enumerate(page.lines):
            if line.typed:
                label = say("Place of line {number}", number=row + 1)
                self._becomes_field(f"station_{row}", Picked(label, STATIONS), line.station)

    def validate(self, extra_validators: Any = None) -> bool:
        if not _are_plain(self.texts.values()):
            for name, text in self.texts.items():
                if len(text) > _most(name) or not text.isprintable():
                    self.field_named(name)
        for name, words in WORDS.items():
            if self.chosen[name] not in words:
                self.field_named(name)
        return bool(super().validate(extra_validators))

    def show_how_read(self) -> None:
        """How it was read is shown as fields."""
        for name in (*HOW_READ, *LENGTHS):
            self.field_named(name)

    def field_named(self, name: str) -> Field | None:
        """What was sent becomes a field once something is wrong with it or it is shown."""
        if name in HOW_READ and name not in self:
            self._becomes_field(name, HOW_READ[name], self.chosen[name])
        if name in self.texts and name not in self:
            label = self.label_of(name)
            self._becomes_field(name, TextField(label, most=_most(name)), self.texts[name])
        return super().field_named(name)

    def label_of(self, name: str) -> str:
        """A height or a cell in words: Left leg at 12 1/2, reading 2; any other field by its
        label.
        """
        if name in LENGTHS:
            return say(LENGTHS[name])
        if name not in self.texts:
            self.field_named(name)
            return super().label_of(name)
        what, *where = name.split("_")
        row = int(where[-1 if what == "height" else 1])
        if what == "height":
            return say("Height of line {number}", number=row + 1)
        kind = say(NAMES_OF_CELLS[what, where[0]])
        at = self.heights[row] or say("line {number}", number=row + 1)
        if len(where) < 3:
            return say("{kind} at {height}", kind=kind, height=at)
        return say("{kind} at {height}, reading {count}", kind=kind, height=at, count=where[2])

    def _becomes_field(self, name: str, unbound: Any, stands: object) -> None:
        BaseForm.__setitem__(self, name, unbound)  # Form itself takes fields on its class alone
        self[name].process(request.form if self.is_submitted() else None, stands)

    def sheet(self, page: MeasurePage) -> Sheet:
        """The sheet as typed."""
        rows = []
        for row, line in enumerate(page.lines):
            station = (self[f"station_{row}"].data or "") if line.typed else line.station
            rows.append(
                Row(self.texts[f"height_{row}"], station, "" if line.typed else page.fit.unit)
            )
        return Sheet(
            str(self.chosen["unit"]),
            self.target.data,
            tuple(rows),
            self.texts,
            page.sides,
            page.cells,
            page.fit.unit,
        )

    def ends(self, page: MeasurePage) -> list[str]:
        """The sides that may end below the highest height: said so, or not measured up to it."""
        return [
            side
            for side in page.sides
            if self.chosen[f"ends_{side}"]
            or any(
                name in self and self[name].errors
                for name in self.texts
                if name.startswith(f"boot_{side}_")
            )
        ]

    def terms(self, page: MeasurePage) -> Terms:
        """How it was read.

        A sheet without legs does not ask how legs were read, so that stays as it was.
        """
        told: dict[str, Any] = {
            key: self.texts[key] if key in LENGTHS else self.chosen[key] for key in TERMS
        }
        if "leg" not in READS[page.target]:
            told |= {key: getattr(page.terms, key) for key in OF_LEGS}
        return Terms(**told)


def _most(name: str) -> int:
    """How long the text of a length may be."""
    return MOST_OF_TERM if name in LENGTHS else MOST_TYPED


def _are_plain(texts: Collection[str]) -> bool:
    """Whether all are short and can be printed, as on nearly every sheet: seen at a glance."""
    return max(map(len, texts)) <= MOST_OF_TERM and "".join(texts).isprintable()


def own_rows() -> int:
    """How many lines for heights of one's own the page shows: those that were sent, and two more
    when they are asked for.
    """
    form = request.form
    sent = sum(name.startswith("own_height_") for name in form) if "own_height_0" in form else 0
    return min(MOST_OWN, sent + (MORE_OWN if "own" in form else 0))


def rows_sent() -> int:
    """How many lines came, so that none is dropped where the heights of the sheet are others by
    now.
    """
    return max(map(int, _ROWS.findall("\n".join(request.form))), default=-1) + 1


def as_sent(page: MeasurePage) -> MeasurePage:
    """The sheet with the heights that came with the form: a reading never stands beside another
    height than it was typed at.
    """
    form = _came()
    sent = [clean(_sent(form, f"height_{row}", line.height)) for row, line in enumerate(page.lines)]
    own = {row for row, line in enumerate(page.lines) if sent[row] != line.height}
    if not own:
        return page
    lines = tuple(
        SheetLine(sent[row], "", True) if row in own else line
        for row, line in enumerate(page.lines)
    )
    places = product(KINDS, page.sides, own, range(1, MOST_REPEATS + 1))
    moved = {cell_name(*place) for place in places}
    return replace(
        page,
        lines=lines,
        cells={name: text for name, text in page.cells.items() if name not in moved},
    )


def _names(page: MeasurePage) -> Sequence[str]:
    """The heights and cells for what the target reads, with repeats where something was read or is
    asked once more.
    """
    more = set(read_again((*page.cells, *request.form)))
    if not (more or page.again):
        return _first_names(page.target, page.sides, len(page.lines))
    found = []
    for row in range(len(page.lines)):
        found.append(f"height_{row}")
        for what, side in product(READS[page.target], page.sides):
            found.append(cell_name(what, side, row))
            found += [
                cell_name(what, side, row, repeat)
                for repeat in _repeats(page, what, side, row, more)
            ]
    return found


@lru_cache(maxsize=64)
def _first_names(target: str, sides: tuple[str, ...], rows: int) -> tuple[str, ...]:
    """The same where nothing is read twice, as on nearly every sheet."""
    cells = [*product(READS[target], sides)]
    lines = ([f"height_{row}", *(cell_name(*cell, row) for cell in cells)] for row in range(rows))
    return tuple(chain.from_iterable(lines))


def _repeats(page: MeasurePage, what: str, side: str, row: int, more: set[str]) -> list[int]:
    """The readings after the first: one more than was read where it was asked for, and whatever was
    read or sent.
    """
    if what == "amount":
        return []
    read = [
        repeat
        for repeat in range(1, MOST_REPEATS + 1)
        if cell_name(what, side, row, repeat) in page.cells
    ]
    known = [
        repeat
        for repeat in range(2, MOST_REPEATS + 1)
        if cell_name(what, side, row, repeat) in more
    ]
    asked = [max(read, default=0) + 1] if read and cell_name(what, side, row) in page.again else []
    return sorted({*known, *(one for one in asked if one <= MOST_REPEATS)})


def _came() -> dict[str, list[str]]:
    """All that came in each field of the form."""
    form = request.form
    return dict(zip(form, form.listvalues(), strict=True))


def _texts(
    form: Mapping[str, Sequence[str]], names: Sequence[str], stored: Mapping[str, str]
) -> dict[str, str]:
    """What was sent for each of these lengths, else what is stored. Raises SentTwice."""
    if max(map(len, form.values()), default=1) > 1:
        for name in names:
            _sent(form, name, "")
    texts = [form[name][0] if name in form else stored.get(name, "") for name in names]
    return dict(zip(names, map(clean, texts), strict=True))


def _chosen(form: Mapping[str, Sequence[str]], name: str, stored: str | bool) -> str | bool:
    """The same for what is picked or ticked; a tick that did not come with a form is none."""
    if name in WORDS:
        return _sent(form, name, str(stored))
    return _sent(form, name, "") not in UNTICKED if form else stored


def _sent(form: Mapping[str, Sequence[str]], name: str, stored: str) -> str:
    """What was sent for a cell, else what is stored. Raises SentTwice."""
    sent = form.get(name, (stored,))
    if len(sent) > 1:
        raise SentTwice
    return sent[0]
