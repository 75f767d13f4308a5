"""The shop's list of work: each with its price, its usual days, whether it is taxed and what it
waits for; found by the first letters of its words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from typing import NamedTuple

from fitcounter.desk.common.translation import say, spoken
from fitcounter.desk.common.usual_work import USUAL, UsualWork, work_name
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, NotFound
from fitcounter.fit.tape import parse_length
from fitcounter.fit.work_timing import TIMINGS, Timing
from fitcounter.store import price_list
from fitcounter.store.customers import name_key
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.price_list import PriceEntryRow

LONGEST_NAME, LONGEST_ANSWER, MOST_DAYS = 60, 160, 30


class PriceEntry(NamedTuple):
    """key: in addresses, a usual entry's code or a number. what: as it is kept. price_minor: for
    each boot or item, None where it is asked for each time. sized: the price goes by the size.
    answer: what is said of work that is not done here.
    """

    key: str
    what: str
    price_minor: int | None
    size_minor: int
    days: int
    timing: str
    taxable: int
    answer: str
    sized: bool
    row: PriceEntryRow | None = None

    @property
    def name(self) -> str:
        """In the language spoken now."""
        return work_name(self.what)

    @property
    def said_answer(self) -> str:
        return work_name(self.answer)


@dataclass(frozen=True, slots=True, kw_only=True)
class EntryInput:
    """An entry as typed. price_minor: None for none."""

    what: str
    price_minor: int | None
    size_minor: int = 0
    days: int = 0
    timing: str = Timing.ANY
    taxable: bool = True
    answer: str = ""
    offered: bool = True
    version: int | None = None


def entries(store: Store) -> list[PriceEntry]:
    """What the shop offers or answers, by name."""
    rows = price_list.everything(store)
    changed = {row.code: row for row in rows if row.code}
    usual = [_usual(work, changed.get(work.code)) for work in USUAL.values()]
    own = [_of_row(row, "") for row in rows if not row.code and row.offered]
    return sorted(
        [*(one for one in usual if one.row is None or one.row.offered), *own],
        key=lambda one: name_key(one.name),
    )


def _usual(work: UsualWork, row: PriceEntryRow | None) -> PriceEntry:
    if row is not None:
        return _of_row(row, work.what)
    return PriceEntry(
        work.code, work.what, None, 0, work.days, work.timing, 1, work.answer, work.sized
    )


def _of_row(row: PriceEntryRow, usual: str) -> PriceEntry:
    sized = bool(row.size_minor) or (row.code in USUAL and USUAL[row.code].sized)
    return PriceEntry(
        row.code or str(row.id),
        row.what or usual,
        row.price_minor,
        row.size_minor,
        row.days,
        row.timing,
        row.taxable,
        row.answer,
        sized,
        row,
    )


def find(store: Store, typed: str) -> list[PriceEntry]:
    """What is meant by a name or the first letters of its words: the one of just that name, else
    those that begin so, else those of which any words do, else those that are asked for in other
    words; none for fewer than two letters.
    """
    words = name_key(typed).split()
    if len("".join(words)) < 2:
        return []
    held = entries(store)
    same = [one for one in held if name_key(one.name) == name_key(typed)]
    begin = [one for one in held if name_key(one.name).startswith(name_key(typed))]
    found = same[:1] or begin or [one for one in held if _begins(words, _words_of(one.name))]
    return found or [one for one in held if _begins(words, _words_of(_also(one)))]


def pick(store: Store, typed: str, field: str) -> PriceEntry | None:
    """What is meant, None where nothing on the list is. Raises BadInput where several begin so."""
    found = find(store, typed)
    if len(found) > 1:
        names = spoken().listed([one.name for one in found])
        raise BadInput(say("Which one: {names}?", names=names), typed=typed, field=field)
    return found[0] if found else None


def _words_of(text: str) -> list[str]:
    return name_key(text.replace(",", " ")).split()


def _also(entry: PriceEntry) -> str:
    """Other words in which a usual job is asked for, in the language spoken now."""
    usual = USUAL.get(entry.key)
    return say(usual.also) if usual and usual.also else ""


def _begins(typed: Sequence[str], words: Sequence[str]) -> bool:
    return all(any(word.startswith(one) for word in words) for one in typed)


def get(store: Store, key: str) -> PriceEntry:
    """Also one that is not on the list any more. Raises NotFound."""
    if key in USUAL:
        rows = [row for row in price_list.everything(store) if row.code == key]
        return _usual(USUAL[key], rows[0] if rows else None)
    if not (key.isascii() and key.isdigit() and len(key) < 12):
        raise NotFound(say("No such entry in the price list."))
    return _of_row(price_list.get(store, int(key)), "")


def save(store: Store, act: Act, key: str, typed: EntryInput) -> Written:
    """Keeps an entry; key "" for a new one. Raises BadInput at the field, Conflict, NotFound."""
    now = get(store, key) if key else None
    if not typed.what or len(typed.what) > LONGEST_NAME:
        raise BadInput(say("Type what the work is called."), typed=typed.what, field="what")
    if typed.timing not in TIMINGS:
        raise BadInput(say("Pick when it is done."), typed=typed.timing, field="timing")
    if not 0 <= typed.days <= MOST_DAYS:
        words = say("Type 0 to {most} days.", most=MOST_DAYS)
        raise BadInput(words, typed=str(typed.days), field="days")

    def write() -> Written:
        _only_one(store, key, typed.what)
        row = now.row if now else None
        columns = {
            "price_minor": typed.price_minor,
            "size_minor": typed.size_minor,
            "days": typed.days,
            "timing": typed.timing,
            "taxable": int(typed.taxable),
            "offered": int(typed.offered),
            **_words(key, typed),
        }
        price_list.put(store, row.id if row else None, typed.version if row else None, **columns)
        return Written(words=say("{work} is saved.", work=typed.what), detail={"entry": key})

    return store.once(act, "price-list", write)


def _words(key: str, typed: EntryInput) -> dict[str, object]:
    """Name and answer; of a usual entry only what differs, so that it can be said in any
    language.
    """
    if key not in USUAL:
        return {"what": typed.what, "answer": typed.answer}
    usual = USUAL[key]
    return {
        "code": key,
        "what": "" if typed.what == work_name(usual.what) else typed.what,
        "answer": usual.answer if typed.answer == work_name(usual.answer) else typed.answer,
    }


def _only_one(store: Store, key: str, what: str) -> None:
    """Raises BadInput where another entry is called so."""
    for one in entries(store):
        if one.key != key and name_key(one.name) == name_key(what):
            raise BadInput(say("There is an entry of this name already."), typed=what, field="what")


def amount_of(entry: PriceEntry, shop: Shop, size: str) -> int | None:
    """The price of one piece of work from the list, in minor units; None where the list has none.
    size: as typed. Raises BadInput (field: size).
    """
    if not entry.size_minor:
        return entry.price_minor
    if not size.strip():
        raise BadInput(say("Type the size: its price goes by it."), field="size")
    unit = "in" if shop.unit == "in" else "cm"
    return sized_minor(entry, shop, parse_length(size, unit, "size").float_mm)


def sized_minor(entry: PriceEntry, shop: Shop, size_mm: float) -> int:
    """The price of one piece of this size, its begun sixteenth of an inch or millimeter whole."""
    step, steps = ("1587.5", 16) if shop.unit == "in" else ("1000", 10)
    number = (
        (Decimal(str(size_mm)) * 1000 / Decimal(step))
        .quantize(Decimal("0.001"))
        .to_integral(ROUND_CEILING)
    )
    amount = (number * entry.size_minor / steps).quantize(Decimal(1), ROUND_HALF_UP)
    return (entry.price_minor or 0) + int(amount)


def timing_words(timing: str) -> str:
    """ "after stretching": when a job is done."""
    return say(TIMINGS[Timing(timing)])
