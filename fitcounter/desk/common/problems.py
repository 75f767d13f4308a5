"""Everything that is wrong with the fields of one form, collected so that it is said at once."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from fitcounter.errors import BadFields, BadInput, BadReading


class Problems:
    """The fields that cannot be taken, each with the first sentence said about it.

    problems = Problems()
    with problems.reading():
        day = read_day(typed_day, today, "day")
    with problems.reading():
        price = read_amount(typed_price, currency, "price")
    problems.raise_any()
    return Offer(day, price)  # both are bound: nothing was wrong
    """

    def __init__(self) -> None:
        self.sentences: dict[str, str] = {}

    def __bool__(self) -> bool:
        return bool(self.sentences)

    def add(self, field: str, sentence: str) -> None:
        """Keeps what is wrong with a field; of one that is wrong already, the first stays."""
        self.sentences.setdefault(field, sentence)

    @contextmanager
    def reading(self, field: str = "") -> Iterator[None]:
        """Keeps the BadInput or BadReading that ends the block, instead of letting it out.

        field: of an error that names none. Every other error goes on.
        """
        try:
            yield
        except (BadInput, BadReading) as error:
            for name, sentence in error.sentences.items():
                self.add(name or field, sentence)

    def raise_any(self) -> None:
        """Raises BadFields with everything that was wrong; does nothing where nothing was."""
        if self.sentences:
            raise BadFields(self.sentences)
