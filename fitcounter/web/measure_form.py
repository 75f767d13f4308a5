"""The measuring form: a field for every cell of the sheet, and how it was read."""

from __future__ import annotations

from typing import Any, cast

from flask import request
from wtforms import BooleanField, HiddenField, RadioField, SelectField

from fitcounter.desk.measure import Terms
from fitcounter.desk.measure_page import MeasurePage
from fitcounter.desk.sheet import MOST_REPEATS, READS, Row, Sheet, cell_name
from fitcounter.fit.legs import NAMES, SHAFT_STATIONS
from fitcounter.web.forms import SavedForm, TextField
from fitcounter.web.new_form import WORN_WITH

MOST_ROWS = 40
UNITS = {"in": "inches", "cm": "centimetres"}
EASES = {"snug": "skin, flesh gives a little", "close": "skin", "easy": "one finger", "roomy": "two fingers"}
METHODS = {"inside": "taped inside", "outside": "taped outside", "flat": "laid flat, across"}
DATUMS = {"heel-seat": "the inside heel seat", "ground": "the ground", "top-line": "the top line, downwards"}
STATIONS = {"": "–", **{word: NAMES[word] for word in SHAFT_STATIONS}}
POSTURES = {"standing": "standing", "seated": "seated"}
PARTS = {"morning": "morning", "midday": "middle of the day", "evening": "evening"}
WORDS = {"leg": "leg", "gap": "gap", "amount": "more", "boot": "boot"}
_TERMS = tuple(Terms.__dataclass_fields__)


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


def measure_form(page: MeasurePage, target: str) -> TermsForm:
    """The form for this sheet: cells for what the target reads, with repeats where something was read or is asked once more."""
    fields: dict[str, Any] = {}
    rows = max(len(page.lines), min(MOST_ROWS, _sent_rows()))
    for row in range(rows):
        line = page.lines[row] if row < len(page.lines) else None
        where = line.height if line and line.height else f"line {row + 1}"
        fields[f"height_{row}"] = TextField(f"Height of line {row + 1}", most=24, default=line.height if line else "")
        fields[f"station_{row}"] = SelectField(f"Place at {where}", choices=STATIONS, default=line.station if line else "")
        for what in READS[target]:
            for side in page.sides:
                for repeat in _repeats(page, what, side, row):
                    name = cell_name(what, side, row, repeat)
                    label = f"{side.capitalize()} {WORDS[what]} at {where}" + (f", reading {repeat}" if repeat > 1 else "")
                    fields[name] = TextField(label, most=64, default=page.cells.get(name, ""))
    form = type("MeasureForm", (TermsForm,), fields)
    held = {"unit": page.fit.unit, "version": str(page.fit.version), "target": target}
    return cast(TermsForm, form(data=None if request.method == "POST" else {**held, **{key: getattr(page.terms, key) for key in _TERMS}}))


def sheet_of(form: TermsForm, page: MeasurePage) -> Sheet:
    """The sheet as typed."""
    count = sum(1 for name in form._fields if name.startswith("height_"))
    rows = tuple(Row(form[f"height_{row}"].data or "", form[f"station_{row}"].data or "") for row in range(count))
    cells = {name: str(field.data or "") for name, field in form._fields.items() if name.split("_")[0] in WORDS and name.count("_") >= 2}
    return Sheet(form.unit.data, form.target.data, rows, cells, page.sides)


def terms_of(form: TermsForm) -> Terms:
    said: dict[str, Any] = {key: "" if form[key].data is None else form[key].data for key in _TERMS}
    return Terms(**said)


def _sent_rows() -> int:
    sent = [name for name in request.form if name.startswith("height_") and name[7:].isascii() and name[7:].isdigit()]
    return max((int(name[7:]) + 1 for name in sent if len(name) < 10), default=0)


def _repeats(page: MeasurePage, what: str, side: str, row: int) -> list[int]:
    """The first reading always; one more than was read where it was asked for, and whatever was sent."""
    if what in ("gap", "amount"):
        return [1]
    read = [repeat for repeat in range(1, MOST_REPEATS + 1) if cell_name(what, side, row, repeat) in page.cells]
    sent = [repeat for repeat in range(1, MOST_REPEATS + 1) if cell_name(what, side, row, repeat) in request.form]
    asked = [max(read, default=0) + 1] if read and cell_name(what, side, row) in page.again else []
    return sorted({1, *read, *sent, *(one for one in asked if one <= MOST_REPEATS)})
