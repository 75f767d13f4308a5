"""Reading a JSON object key by key, so that every refusal names the field and says what to write
there.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final, TypeVar
from unicodedata import category

from fitcounter.errors import BadInput, BadReading, message
from fitcounter.fit.handbook import job as book
from fitcounter.fit.tape import Length, parse_length

REQUIRED: Final = object()
Part = TypeVar("Part")


def wrong(field: str, what: str, given: object = None) -> BadInput:
    """The refusal of a field: "boot.wall_mm: write a number from 0 to 30."; given is cut short for
    the record.
    """
    typed = None if given is None else repr(given)[: book.WORD_MOST]
    return BadInput(message("{field}: {what}", field=field, what=what), typed=typed, field=field)


def below(path: str, key: str) -> str:
    """The path of what an object at that path holds under a name: "left.heel"; a name at the top
    stands alone.
    """
    return f"{path}.{spelled(key)}" if path else spelled(key)


def spelled(name: str) -> str:
    """A name as one line can hold it: quoted and in escapes where it is empty, too long or has
    signs that do not show.
    """
    shows = 0 < len(name) <= book.WORD_MOST and name.isprintable()
    return name if shows else ascii(name[: book.WORD_MOST])


def one_of(field: str, value: object, options: Sequence[str]) -> str:
    """The value, where it is one of the words. Raises BadInput."""
    if not isinstance(value, str) or value not in options:
        raise wrong(field, message("write one of {options}.", options=", ".join(options)), value)
    return value


def in_range(field: str, value: object, range_of: str) -> float:
    """The value, where it is a finite number within the handbook's range of that name, ends
    included.

    Raises BadInput.
    """
    low, high = book.RANGES[range_of]
    real = not isinstance(value, bool) and isinstance(value, int | float)
    number = _capped(value) if real else math.nan
    if not low <= number <= high:
        raise wrong(
            field,
            message("write a number from {low} to {high}.", low=f"{low:g}", high=f"{high:g}"),
            value,
        )
    return number


def whole_in(field: str, value: object, low: int, high: int) -> int:
    """The value, where it is a whole number from low to high. Raises BadInput."""
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise wrong(
            field, message("write a whole number from {low} to {high}.", low=low, high=high), value
        )
    return value


def known(path: str, names: Iterable[object], keys: Sequence[str]) -> None:
    """Raises BadInput for the first name that is none of the keys an object at a path may have."""
    for name in names:
        if name not in keys:
            raise wrong(
                below(path, str(name)),
                message("there is no such field; write one of {options}.", options=", ".join(keys)),
                name,
            )


def listed(field: str, value: object) -> Sequence[object]:
    """The value, where it is a list of no more entries than a job has. Raises BadInput."""
    if not isinstance(value, list | tuple) or len(value) > book.LIST_MOST:
        raise wrong(
            field,
            message("write a list in brackets, of {most} entries at most.", most=book.LIST_MOST),
            value,
        )
    return value


def listed_readings(field: str, value: object) -> Sequence[object]:
    """The value, where it is a list of as many readings as a place has: one at least.

    Raises BadInput.
    """
    if not isinstance(value, list | tuple) or not 0 < len(value) <= book.READINGS_MOST:
        raise wrong(
            field,
            message(
                'write a list of one to {most} readings, such as ["16 1/4"].',
                most=book.READINGS_MOST,
            ),
            value,
        )
    return value


class Fields:
    """One JSON object. path: where it stands in the job, "" for the whole; keys: all that it may
    have.

    Raises BadInput for another type or an unknown key.
    """

    def __init__(self, value: object, path: str, keys: Sequence[str]) -> None:
        self.path = path
        if not isinstance(value, dict):
            raise wrong(
                path or message("the job"),
                message("write an object in braces, with names and values."),
                value,
            )
        known(path, value, keys)
        self.values: dict[str, object] = value

    def field(self, key: str) -> str:
        """The path of one of our own names."""
        return f"{self.path}.{key}" if self.path else key

    def get(self, key: str, default: object = REQUIRED) -> object:
        """The value as it stands; the default where the key is left out."""
        value = self.values.get(key, default)
        if value is REQUIRED:
            raise wrong(self.field(key), message("is missing; write it."))
        return value

    def choice(self, key: str, options: Sequence[str], default: object = REQUIRED) -> str:
        return one_of(self.field(key), self.get(key, default), options)

    def flag(self, key: str) -> bool:
        value = self.get(key, False)
        if not isinstance(value, bool):
            raise wrong(self.field(key), message("write true or false."), value)
        return value

    def number(self, key: str, default: object = REQUIRED, range_of: str = "") -> float:
        """A finite number within the handbook's range of that name (the key's own unless range_of
        says another).
        """
        return in_range(self.field(key), self.get(key, default), range_of or key)

    def number_or_none(self, key: str, range_of: str) -> float | None:
        return None if self.get(key, None) is None else self.number(key, range_of=range_of)

    def whole(self, key: str, low: int, high: int, default: object = REQUIRED) -> int:
        return whole_in(self.field(key), self.get(key, default), low, high)

    def length(self, key: str, unit: str, range_of: str = "girth_mm") -> Length:
        """A reading written as text, in its own unit or the job's.

        Raises BadInput or BadReading.
        """
        return read_length(self.get(key), self.field(key), unit, range_of)

    def length_or_none(self, key: str, unit: str, range_of: str = "girth_mm") -> Length | None:
        return None if self.get(key, None) is None else self.length(key, unit, range_of)

    def word(self, key: str, default: object = REQUIRED) -> str:
        return read_word(self.get(key, default), self.field(key))

    def items(
        self, key: str, read: Callable[[object, str], Part], default: object = ()
    ) -> tuple[Part, ...]:
        """A list, each entry read with its own path: "left.leg[2]"."""
        return tuple(read(value, field) for field, value in self._entries(key, default))

    def _entries(self, key: str, default: object) -> Iterator[tuple[str, object]]:
        path = self.field(key)
        return (
            (f"{path}[{place}]", entry)
            for place, entry in enumerate(listed(path, self.get(key, default)))
        )


def _capped(value: object) -> float:
    """A JSON number as a float; one too large for a float is infinite."""
    try:
        return float(value)  # type: ignore[arg-type]  # only ever called on int and float
    except OverflowError:
        return math.inf


def read_length(value: object, field: str, unit: str, range_of: str) -> Length:
    """A reading written as text, within the handbook's range of that name.

    Raises BadInput or BadReading, naming the field.
    """
    if not isinstance(value, str):
        raise wrong_text(field, value)
    least, _ = book.RANGES[range_of]
    try:
        length = parse_length(value, unit, field, zero_ok=least == 0)
    except BadReading as error:
        sentence = f"{field}: {error.sentence[:1].lower()}{error.sentence[1:]}"
        raise BadReading(sentence, typed=error.typed, field=field) from error
    in_reading_range(field, length.float_mm, range_of, value)
    return length


def length_in(field: str, length: Length, range_of: str) -> Length:
    """A length that was read elsewhere, where it is within the handbook's range of that name; else
    it is refused in the words that its text would be refused in.

    Raises BadInput or BadReading.
    """
    low, high = book.RANGES[range_of]
    if low <= length.float_mm <= high:
        return length
    return read_length(length.text, field, length.unit, range_of)


def wrong_text(field: str, given: object) -> BadInput:
    """The refusal of a reading that is no text."""
    return wrong(
        field, message('write the reading as text in quotes, such as "16 1/4" or "41.3 cm".'), given
    )


def in_reading_range(
    field: str, read_mm: float, range_of: str = "girth_mm", typed: object = None
) -> None:
    """Raises BadInput where a reading is not within the handbook's range of that name."""
    low, high = book.RANGES[range_of]
    if not low <= read_mm <= high:
        raise wrong(
            field,
            message("write a reading from {low} to {high} mm.", low=f"{low:g}", high=f"{high:g}"),
            typed,
        )


def read_lengths(
    value: object, field: str, unit: str, range_of: str = "girth_mm"
) -> tuple[Length, ...]:
    """The readings of one girth or gap: a list of texts, one at least."""
    return tuple(
        read_length(entry, f"{field}[{place}]", unit, range_of)
        for place, entry in enumerate(listed_readings(field, value))
    )


def read_word(value: object, field: str) -> str:
    """A short word or name written as text, without control characters or halves of characters."""
    if (
        not isinstance(value, str)
        or not 0 < len(value) <= book.WORD_MOST
        or any(category(sign) in ("Cc", "Cs") for sign in value)
    ):
        raise wrong(
            field,
            message(
                "write a word or two as text in quotes, {most} letters at most.",
                most=book.WORD_MOST,
            ),
            value,
        )
    return value


def heights_once(path: str, heights: Sequence[Length | None]) -> None:
    """Raises BadInput where two entries of the list at a path have the same height, to the
    micrometre; None is an entry without one.
    """
    given = [height.um for height in heights if height is not None]
    if len(set(given)) == len(given):
        return
    seen: dict[int, int] = {}
    for place, height in enumerate(heights):
        first = place if height is None else seen.setdefault(height.um, place)
        if first != place:
            raise wrong(
                f"{path}[{place}].height",
                message(
                    "this height is in {other} already; give each height once.",
                    other=f"{path}[{first}].height",
                ),
            )
