"""Finding a job from whatever is at hand: a tag, a number, the end of a phone number, a name even
with a slip in it.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from fitcounter.desk.common import item_words
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.front_desk.ticket_rows import TicketRow, row_of
from fitcounter.desk.shop import Shop
from fitcounter.desk.tags.scanned_or_typed import tagged_item
from fitcounter.errors import BadInput, NotFound, RetiredTag
from fitcounter.store import items, search, tickets
from fitcounter.store.customers import name_key
from fitcounter.store.database import Store
from fitcounter.store.records import Ticket

KINDS = (
    marked("boot"),
    marked("shoe"),
    marked("bag"),
    marked("belt"),
    marked("glove"),
)


def find(store: Store, shop: Shop, typed: str, today: date) -> list[TicketRow]:
    """What one field finds, best first: a tag's code or address, a number, the last four of a
    phone, a name from two letters, its words in any order, a thing that is here. Raises
    RetiredTag for a tag that opens nothing any more.
    """
    return [row_of(store, ticket, shop, today) for ticket in _tickets(store, typed.strip())]


def _tickets(store: Store, text: str) -> list[Ticket]:
    text = _number_called(text) or text
    digits = "".join(one for one in text if one.isascii() and one.isdigit())
    if text.isascii() and text.isdigit() and len(text) <= 3:
        return search.by_number(store, int(text))
    if digits and len(digits) == len(
        [one for one in text if not one.isspace() and one not in "()+-."]
    ):
        numbered = search.by_number(store, int(digits)) if len(digits) == 4 else []
        return numbered + search.of_customers(
            store, [one.id for one in search.by_last4(store, digits[-4:])]
        )
    try:
        item = items.get(store, tagged_item(store, text))
        return [tickets.get(store, item.ticket_id)]
    except RetiredTag:
        raise  # it may have hung on another customer's thing
    except (BadInput, NotFound):
        named = search.of_customers(store, [one.id for one in search.by_words(store, text)])
        things = search.by_item_words(store, text, _kinds(text))
        known = {one.id: one for one in (*named, *things)}
        return list(known.values()) or search.of_customers(store, _nearly_named(store, text))


def _number_called(text: str) -> str:
    """The number in what is called across the bench: "Left 22", "bag 22", "#22"; "" in other
    text. In the language spoken now.
    """
    words = text.casefold().replace("#", " ").split()
    numbers = [word for word in words if word.isascii() and word.isdigit()]
    called = {say(word).casefold() for word in item_words.WORDS.values()}
    others = set(words) - set(numbers)
    return numbers[0] if len(numbers) == 1 and others <= called else ""


def _kinds(text: str) -> list[str]:
    """Kinds of things that are called so, in the language spoken: bag, belts, boots."""
    typed = text.casefold()
    called = {kind: say(kind).casefold() for kind in KINDS}
    return [kind for kind, word in called.items() if len(typed) > 2 and typed in (word, f"{word}s")]


def _nearly_named(store: Store, text: str) -> list[int]:
    """Customers whose name has the typed word with one slip in it: of open tickets; where there is
    none, of any whose name begins with the same two letters.
    """
    typed = name_key(text)
    here = [
        one.id for one in search.open_names(store) if _one_slip(typed, name_key(one.name).split())
    ]
    return here or [
        customer_id
        for word, customer_id in search.words_like(store, typed.strip()[:2])
        if _one_slip(typed, [word])
    ]


def _one_slip(typed: str, words: Iterable[str]) -> bool:
    """Whether a word of the name is the typed one but for one letter more, less, other or two
    swapped; from four letters on.
    """
    piece = typed.strip()
    if len(piece) < 4:
        return False
    return any(_near(piece, word[: len(piece) + cut]) for word in words for cut in (-1, 0, 1))


def _near(one: str, other: str) -> bool:
    """At most one insertion, deletion, substitution or swap of neighbours apart."""
    if abs(len(one) - len(other)) > 1:
        return False
    start = next(
        (n for n, (a, b) in enumerate(zip(one, other, strict=False)) if a != b),
        min(len(one), len(other)),
    )
    a, b = one[start:], other[start:]
    return a[1:] == b[1:] or a[1:] == b or a == b[1:] or (a[:2] == b[:2][::-1] and a[2:] == b[2:])
