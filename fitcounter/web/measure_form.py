"""The measuring form: a field for every cell of the sheet, and how it was read."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from flask import request
from wtforms import BooleanField, HiddenField, RadioField, SelectField

from fitcounter.desk.measure import Terms
from fitcounter.desk.measure_page import MeasurePage
from fitcounter.desk.sheet import MOST_REPEATS, READS, Row, Sheet, cell_name
from fitcounter.fit.legs import NAMES, SHAFT_STATIONS
from fitcounter.web.forms import SavedForm, TextField
from fitcounter.web.new_form import WORN_WITH

MOST_OWN = 8
MORE_OWN = 2
UNITS = {"in": "inches", "cm": "centimetres"}
EASES = {"snug": "skin, flesh gives a little", "close": "skin", "easy": "one finger", "roomy": "two fingers"}
METHODS = {"inside": "taped inside", "outside": "taped outside", "flat": "laid flat, across"}
DATUMS = {"heel-seat": "the inside heel seat", "ground": "the ground", "top-line": "the top line, downwards"}
STATIONS = {"": "–", **{word: NAMES[word] for word in SHAFT_STATIONS}}
POSTURES = {"standing": "standing", "seated": "seated"}
PARTS = {"morning": "morning", "midday": "middle of the day", "evening": "evening"}
WORDS = {"leg": "leg", "gap": "gap", "amount": "more", "boot": "boot"}
TERMS = tuple(Terms.__dataclass_fields__)
OF_LEGS = ("posture", "over", "layer", "part_of_day", "marked", "on_block", "ease", "rise", "heel_left", "heel_right")


class TermsForm(SavedForm):
    """How it was read. heel_left, heel_right: round heel and instep, for a boot without a zip."""

    target = HiddenField()
    unit = RadioField("Tape in", choices=UNITS)
    over = SelectField("Read over", choices=WORN_WITH)
    layer = TextField("Worn later but not there now, thick", most=24)
    posture = RadioField("Posture", choices=POSTURES)
    part_of_day = RadioField("Read in the", choices=PARTS)
    marked = BooleanField("The heights were marked on the leg")
    on_block = BooleanField("Heel on a block of the boot's own height")
    ease = SelectField("Room wanted", choices=EASES)
    method = RadioField("The boot was", choices=METHODS)
    heights_from = SelectField("Boot heights from", choices=DATUMS)
    seat = TextField("Heel seat above the ground", most=24)
    shaft = TextField("Shaft, heel seat to top line", most=24)
    rise = TextField("Heel of the boot, height", most=24)
    wall = TextField("Wall (leather and lining), thick", most=24)
    heel_left = TextField("Left, round heel and instep", most=24)
    heel_right = TextField("Right, round heel and instep", most=24)


def measure_form(page: MeasurePage) -> TermsForm:
    """The form for this sheet: cells for what the target reads, with repeats where something was read or is asked once more."""
    cells = []
    for row, line in enumerate(page.lines):
        for what in READS[page.target]:
            for side in page.sides:
                cells += [(what, side, row, line.height or f"line {row + 1}", repeat) for repeat in _repeats(page, what, side, row)]
    form = _form_of(len(page.lines), tuple(cells))
    held = {"unit": page.fit.unit, "version": str(page.fit.version), "target": page.target}
    heights = {f"height_{row}": line.height for row, line in enumerate(page.lines)}
    stations = {f"station_{row}": line.station for row, line in enumerate(page.lines)}
    return form(data={**page.cells, **heights, **stations, **held, **{key: getattr(page.terms, key) for key in TERMS}})


@lru_cache(maxsize=64)  # most sheets of a shop have the same lines, and a class of fields is dear to make
def _form_of(lines: int, cells: tuple[tuple[str, str, int, str, int], ...]) -> type[TermsForm]:
    """A form class with so many lines and these cells: what, side, row, its height in words, repeat."""
    fields: dict[str, Any] = {}
    for row in range(lines):
        fields[f"height_{row}"] = TextField(f"Height of line {row + 1}", most=24)
        fields[f"station_{row}"] = SelectField(f"Place of line {row + 1}", choices=STATIONS)
        for what, side, _, where, repeat in (one for one in cells if one[2] == row):
            label = f"{side.capitalize()} {WORDS[what]} at {where}" + (f", reading {repeat}" if repeat > 1 else "")
            fields[cell_name(what, side, row, repeat)] = TextField(label, most=64)
    return type("MeasureForm", (TermsForm,), fields)


def sheet_of(form: TermsForm, page: MeasurePage) -> Sheet:
    """The sheet as typed."""
    rows = []
    for row, line in enumerate(page.lines):
        height = form[f"height_{row}"].data or ""
        rows.append(Row(height, form[f"station_{row}"].data or "", "" if line.typed else page.fit.unit))
    cells = {name: str(field.data or "") for name, field in form._fields.items() if name.split("_")[0] in WORDS and name.count("_") >= 2}
    return Sheet(form.unit.data, form.target.data, tuple(rows), cells, page.sides, page.cells, page.fit.unit)


def terms_of(form: TermsForm, page: MeasurePage) -> Terms:
    """How it was read. A sheet without legs does not ask how legs were read, so that stays as it was."""
    said: dict[str, Any] = {key: "" if form[key].data is None else form[key].data for key in TERMS}
    if "leg" not in READS[page.target]:
        said |= {key: getattr(page.terms, key) for key in OF_LEGS}
    return Terms(**said)


def own_rows() -> int:
    """How many lines for heights of one's own the page shows: those that were sent, and two more when they are asked for."""
    sent = sum(1 for name in request.form if name.startswith("own_height_"))
    return min(MOST_OWN, sent + (MORE_OWN if "own" in request.form else 0))


def _repeats(page: MeasurePage, what: str, side: str, row: int) -> list[int]:
    """The first reading always; one more than was read where it was asked for, and whatever was sent."""
    if what == "amount":
        return [1]
    read = [repeat for repeat in range(1, MOST_REPEATS + 1) if cell_name(what, side, row, repeat) in page.cells]
    sent = [repeat for repeat in range(1, MOST_REPEATS + 1) if cell_name(what, side, row, repeat) in request.form]
    asked = [max(read, default=0) + 1] if read and cell_name(what, side, row) in page.again else []
    return sorted({1, *read, *sent, *(one for one in asked if one <= MOST_REPEATS)})
