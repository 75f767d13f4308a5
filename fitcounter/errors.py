"""Every error the program raises on purpose, as one tree; and what is said in rooms that know no
languages: a message and its values.

    FitCounterError
    ├── BadReading        a length that cannot be read from what was typed
    ├── BadInput          any other field that cannot be taken as it is
    │   └── BadFields     … several of one form, a sentence each
    ├── NotFound          no such ticket, item, tag, tree, link …
    │   └── Expired       it was here once and has ended
    │       └── RetiredTag  … a tag that opens nothing any more
    ├── OutOfOrder        the step does not follow from the state the item is in
    ├── Conflict          two people wrote the same thing, or it is already done
    ├── NotAllowed        this person may not do this
    │   └── TooManyTries  … and has tried too often; wait
    └── Unavailable       the store cannot take it now; nothing was written
        ├── NoRoom        the disk is full
        └── Damaged       pages of the shop's file cannot be read any more

"Cannot be stretched" is a verdict, never an error.
"""

from __future__ import annotations

from collections.abc import Mapping


class Sentence(str):
    """A sentence of ours in English, its values put in, that can be said in another language too.

    sentence: with its {holes}; many: its form for several things, "" where it has none; things: how
    many; values: what is put in.
    """

    sentence: str
    many: str
    things: int
    values: Mapping[str, object]


def message(sentence: str, /, **values: object) -> str:
    """A sentence with its {values} put in."""
    made = Sentence(sentence.format(**values) if values else sentence)
    made.sentence, made.many, made.things, made.values = sentence, "", 0, values
    return made


def message_n(one: str, many: str, count: int, /, **values: object) -> str:
    """The sentence for `count` things; {count} is put in with the other {values}."""
    made = Sentence((one if count == 1 else many).format(count=count, **values))
    made.sentence, made.many, made.things, made.values = one, many, count, values
    return made


class FitCounterError(Exception):
    """An error with a sentence for the person at the counter.

    sentence: one sentence that says what to type or do. typed: what was typed, if anything. field:
    the form field or JSON path it belongs to, if any.
    """

    def __init__(
        self, sentence: str, *, typed: str | None = None, field: str | None = None
    ) -> None:
        super().__init__(sentence)
        self.sentence = sentence
        self.typed = typed
        self.field = field

    @property
    def sentences(self) -> Mapping[str, str]:
        """The sentence of each field it is about, by its name; of no field under ''."""
        return {self.field or "": self.sentence}


class BadReading(FitCounterError):
    """A length that cannot be read from what was typed."""


class BadInput(FitCounterError):
    """A field that cannot be taken as it is."""


class BadFields(BadInput):
    """Fields of one form that cannot be taken as they are, one at least; nothing was stored.

    Where only one sentence can be shown, it is the first.
    """

    def __init__(self, sentences: Mapping[str, str]) -> None:
        field, sentence = next(iter(sentences.items()))
        super().__init__(sentence, field=field or None)
        self._sentences = dict(sentences)

    @property
    def sentences(self) -> Mapping[str, str]:
        return self._sentences


class NotFound(FitCounterError):
    """There is no such thing."""


class Expired(NotFound):
    """It was here once and has ended."""


class RetiredTag(Expired):
    """A tag that opens nothing any more. code: as shown, to look at what took its place."""

    def __init__(
        self, sentence: str, *, code: str, typed: str | None = None, field: str | None = None
    ) -> None:
        super().__init__(sentence, typed=typed, field=field)
        self.code = code


class OutOfOrder(FitCounterError):
    """The step does not follow from the state the item is in."""


class Conflict(FitCounterError):
    """Two people wrote the same thing, or it is already done.

    theirs: what is stored now, field by field, so that both versions can be shown. ticket_id: of
    the ticket to look at instead, where it is settled and saving again would be refused again.
    """

    def __init__(
        self,
        sentence: str,
        *,
        typed: str | None = None,
        field: str | None = None,
        theirs: dict[str, str] | None = None,
        ticket_id: int | None = None,
    ) -> None:
        super().__init__(sentence, typed=typed, field=field)
        self.theirs = theirs or {}
        self.ticket_id = ticket_id


class NotAllowed(FitCounterError):
    """This person may not do this."""


class TooManyTries(NotAllowed):
    """Tried too often. wait_s: seconds until the next try is looked at."""

    def __init__(self, sentence: str, *, wait_s: int) -> None:
        super().__init__(sentence)
        self.wait_s = wait_s


class Unavailable(FitCounterError):
    """The store cannot take it now; nothing was written."""


class NoRoom(Unavailable):
    """The disk is full; nothing was written."""


class Damaged(Unavailable):
    """Pages of the shop's file cannot be read any more."""
