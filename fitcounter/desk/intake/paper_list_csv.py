"""A paper list of jobs as CSV (RFC 4180): number, name, phone, what, where, promised, a job a line.
Reading alone; nothing is stored.

Every line that cannot be taken has one sentence. Spreadsheets write semicolons, tabs and their own
order of columns: the first line says.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from babel.dates import parse_date

from fitcounter.desk.common.contact import Phone, read_phone
from fitcounter.desk.common.fields import FAR_DAYS, read_day
from fitcounter.desk.common.translation import marked, say, speech_at, spoken
from fitcounter.desk.intake.paper_list_words import What, Where, read_what, read_where, terms
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput
from fitcounter.store.tickets import SPOKEN

# Each column and what it may be called, the usual name first.
COLUMNS = {
    "number": marked("number, no."),
    "name": marked("name, customer"),
    "phone": marked("phone, telephone"),
    "what": marked("what, item, items"),
    "where": marked("where, place"),
    "promised": marked("promised, due"),
    "since": marked("since, brought in"),
    "note": marked("note, notes"),
}
NEEDED = ("name", "what")
_TAKEN = {*COLUMNS, ""}
EXAMPLE = marked(
    "number,name,phone,what,where,promised\n"
    "41,Marisol Okafor,(555) 010-0142,boots + bag: new zipper,tree 4 and 9,2026-12-04\n"
    "42,Tobias Renwick,,left boot,shelf C2,\n"
)
MOST_LINES = 400
MOST_CHARACTERS = 120_000
MOST_NAME, MOST_NOTE = 80, 500


class PaperJob(NamedTuple):
    """One line as it was understood."""

    number: int | None
    name: str
    phone: Phone
    what: What
    where: Where
    promised: date | None
    since: date
    note: str

    @property
    def words(self) -> str:
        """41 Marisol Okafor: left and right boot to stretch; on tree 4 and 9; 2026-12-04."""
        who = f"{self.number or 'new'} {self.name}: {self.what.words}; {self.where.words}"
        return f"{who}; {self.promised.isoformat()}" if self.promised else who


class CsvLine(NamedTuple):
    """One line of the list.

    n: as an editor counts lines. job: None where sentence says what to put right.
    """

    n: int
    name: str
    job: PaperJob | None
    sentence: str = ""


def decode(content: bytes) -> str:
    """A file's text: UTF-8, or what older spreadsheets write (Windows-1252).

    Raises BadInput for what is no text.
    """
    if b"\x00" in content:
        raise BadInput(
            say("That file is not plain text. Save the list as CSV, then choose that file."),
            field="file",
        )
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", "replace")


def read_list(text: str, shop: Shop, today: date) -> list[CsvLine]:
    """Every job of the list. Raises BadInput at lines where the list as a whole cannot be read."""
    if len(text) > MOST_CHARACTERS:
        raise BadInput(
            say(
                "That is over {most} characters. Enter half of the list.",
                most=spoken().number(MOST_CHARACTERS),
            ),
            field="lines",
        )
    rows = _rows(text)
    if not rows:
        raise BadInput(say("The list is empty. Choose a file, or paste the lines."), field="lines")
    columns = _columns(rows[0][1])
    if len(rows) == 1:
        raise BadInput(
            say("Only the column names are here. Add the jobs below them."), field="lines"
        )
    if len(rows) - 1 > MOST_LINES:
        raise BadInput(
            say("That is over {most} jobs. Enter half of the list.", most=MOST_LINES),
            field="lines",
        )
    return _once_each([_line(n, cells, columns, shop, today) for n, cells in rows[1:]])


def _rows(text: str) -> list[tuple[int, list[str]]]:
    """Rows that hold anything, with the number of the line each begins on."""
    head = text.lstrip("\r\n").partition("\n")[0]
    delimiter = max(",;\t", key=head.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows, begins = [], 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                rows.append((begins, [_plain(cell) for cell in cells]))
            begins = reader.line_num + 1
    except csv.Error:
        raise BadInput(
            say("Line {number} has an open quotation mark. Close or remove it.", number=begins),
            field="lines",
        ) from None
    return rows


def _plain(cell: str) -> str:
    """A cell without marks that turn text around or cannot be seen; a spreadsheet's guarding
    apostrophe is taken off.
    """
    text = "".join(one for one in cell if one.isprintable() or one in "\n\t").strip()
    return text[1:] if text[:2] in ("'=", "'+", "'-", "'@") else text


def headings() -> dict[str, str]:
    """Column, and what it is called in the language spoken just now."""
    return {column: say(words).partition(",")[0] for column, words in COLUMNS.items()}


def _columns(cells: Sequence[str]) -> list[str]:
    known = {term: column for column, words in COLUMNS.items() for term in terms(words)}
    typed = [cell.casefold().strip() for cell in cells]
    named = [known.get(name, name) for name in typed]
    if not set(NEEDED) <= set(named):
        raise BadInput(
            say(
                "The first line must name the columns: number,name,phone,what,where,promised."
                " Name and what are needed."
            ),
            field="lines",
        )
    wrong = next(
        (cell for cell, name in zip(cells, named, strict=True) if name not in _TAKEN), None
    )
    if wrong is not None:
        raise BadInput(
            say("No column is called “{name}”. Rename it note, or remove it.", name=wrong[:40]),
            typed=wrong,
            field="lines",
        )
    if len(set(named)) < len(named):
        raise BadInput(say("Two columns have the same name. Keep one of them."), field="lines")
    return named


def _line(n: int, cells: Sequence[str], columns: Sequence[str], shop: Shop, today: date) -> CsvLine:
    told = dict.fromkeys(columns, "") | dict(zip(columns, cells, strict=False))
    name = told.get("name", "")[:MOST_NAME]
    try:
        if any(cell for cell in cells[len(columns) :]):
            raise BadInput(
                say(
                    "This line has more cells than columns. Put a cell with a comma in quotation"
                    " marks."
                )
            )
        return CsvLine(n, name, _job(told, shop, today))
    except BadInput as error:
        return CsvLine(n, name, None, error.sentence)


def _job(told: dict[str, str], shop: Shop, today: date) -> PaperJob:
    name = " ".join(told["name"].split())
    if not name or len(name) > MOST_NAME:
        raise BadInput(say("Type a name, at most {most} characters.", most=MOST_NAME))
    what = read_what(told["what"])
    since = read_day(told.get("since", ""), today, "since", past_ok=True)
    if len(told.get("note", "")) > MOST_NOTE:
        raise BadInput(say("Shorten the note to {most} characters.", most=MOST_NOTE))
    return PaperJob(
        _number(told.get("number", "")),
        name,
        read_phone(told.get("phone", ""), shop.country),
        what,
        read_where(told.get("where", ""), what, shop.shelves),
        _promised(told.get("promised", ""), shop, today),
        since or today,
        told.get("note", ""),
    )


def _number(typed: str) -> int | None:
    text = typed.removeprefix("#").strip()
    if not text:
        return None
    if not (text.isascii() and text.isdigit() and len(text) <= 4 and 1 <= int(text) <= SPOKEN):
        raise BadInput(
            say("Type a number from 1 to {most}, or leave it empty for a new one.", most=SPOKEN)
        )
    return int(text)


def _promised(typed: str, shop: Shop, today: date) -> date | None:
    """A day in ISO order, or as the shop's country writes it in figures; paper may be late, so a
    day gone by is taken.
    """
    text = typed.strip()
    if not text:
        return None
    try:
        day = (
            date.fromisoformat(text)
            if text[:4].isdigit()
            else parse_date(text, locale=speech_at(shop).locale, format="short")
        )
    except (ValueError, IndexError, TypeError):
        raise BadInput(say("Type the promised day as year-month-day, like 2026-12-04.")) from None
    if abs(day - today) > timedelta(days=FAR_DAYS):
        raise BadInput(say("The promised day is more than two years away. Check the year."))
    return day


def _once_each(lines: list[CsvLine]) -> list[CsvLine]:
    """A number stands on one line only."""
    seen: dict[int, int] = {}
    found = []
    for line in lines:
        number = line.job.number if line.job else None
        if number is not None and number in seen:
            line = CsvLine(
                line.n,
                line.name,
                None,
                say(
                    "Number {number} is on line {line} too. Change one of them.",
                    number=number,
                    line=seen[number],
                ),
            )
        elif number is not None:
            seen[number] = line.n
        found.append(line)
    return found
