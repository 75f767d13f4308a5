"""Erasing a customer with proof, and tidying away what the shop keeps no longer than it chose."""

from __future__ import annotations

from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path
from typing import NamedTuple

from fitcounter.desk.common.drafts import KEEP_DAYS
from fitcounter.desk.common.files import in_words
from fitcounter.desk.common.translation import say, say_n
from fitcounter.desk.shop import Shop, open_store, read
from fitcounter.errors import BadInput, Conflict, NotFound, Unavailable
from fitcounter.store import (
    backup,
    byte_search,
    customers,
    drafts,
    erased_list,
    erasing,
    job_log,
    merges,
    pictures,
    tickets,
)
from fitcounter.store.copies_kept import KEPT_DAYS
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Customer

MONTH_DAYS = 31  # the longest, so that nothing goes before its time
SIDES = ("", "-wal", "-journal")


class Proof(NamedTuple):
    """That somebody is gone from every file.

    searched: what was looked through, None where that could not be done. unswept: the file is still
    to be written anew.
    """

    searched: byte_search.Searched | None
    unswept: bool

    @property
    def words(self) -> str:
        if self.unswept:
            return say(
                "Erased. The last traces leave the file with the next copy, tonight; where there"
                " is an off-site copy, within a minute."
            )
        if self.searched is None:
            return say("Erased, but the files could not be searched again. Check Shop, Health.")
        if self.searched.hits:
            return say(
                "Erased. We searched {files} files: the same name or number is still in {hits}, for"
                " another customer or for the staff.",
                files=self.searched.files,
                hits=self.searched.hits,
            )
        return say(
            "Erased. We searched {files} files: not one byte of name, number or address is left.",
            files=self.searched.files,
        )


class CustomerRecords(NamedTuple):
    """One customer with what the shop keeps: how many tickets, photos and signatures; the numbers
    of open tickets.
    """

    customer: Customer
    tickets: int
    files: int
    open_numbers: list[int]


def find(store: Store, piece: str) -> list[Customer]:
    """By a piece of the name, erased ones left out."""
    return customers.by_name(store, piece, most=20)


def look(store: Store, customer_id: int) -> CustomerRecords:
    """Raises NotFound, also for one who was erased."""
    customer = customers.get(store, customer_id)
    if customer.erased_at is not None:
        raise NotFound(say("This customer was erased. Only tickets without a name are kept."))
    count, files = (
        len(tickets.of_customer(store, customer_id)),
        len(erasing.files_of(store, customer_id)),
    )
    return CustomerRecords(customer, count, files, erasing.open_tickets(store, customer_id))


def erase(store: Store, act: Act, customer_id: int, typed_name: str) -> Proof:
    """Erases one customer: the file, its log, photos and signatures. typed_name: typed again by
    hand, so that it is the right one.

    Raises NotFound, BadInput (another name), Conflict (a ticket is open), Unavailable.
    """
    customer = customers.get(store, customer_id)
    if customer.erased_at is None and customers.name_key(typed_name) != customers.name_key(
        customer.name
    ):
        raise BadInput(
            say("Not the same name. Type the name exactly as above."),
            typed=typed_name,
            field="name",
        )
    data_dir = store.path.parent
    _clear(store, act, customer)
    with suppress(OSError):  # what stays lying now goes at night
        job_log.drop_evenings(data_dir)
        sweep(store, data_dir, data_dir / "copies")
    return prove(data_dir, customer)


def _clear(store: Store, act: Act, customer: Customer) -> None:
    """Takes the person out of the file and onto the list beside it, both or neither."""
    lines: list[erased_list.Erased] = []

    def write() -> Written:
        _refuse_erasing(store, customer)
        line = erasing.clear(store, act, customer.id)
        for one in (*erasing.merged_lines(store, line), line):
            lines.insert(0, one)  # the last one noted is the first to be taken off again
            with in_words():
                erased_list.note(store.path.parent, one)
        return Written(
            row_id=customer.id, detail={"customer": customer.id, "files": len(line.files)}
        )

    try:
        store.once(act, "customer-erased", write)
    except (
        BaseException
    ):  # or the night would erase somebody of whom the owner was told that nothing was done
        for line in lines:
            with suppress(OSError):
                erased_list.take_back(store.path.parent, line)
        raise


def _refuse_erasing(store: Store, customer: Customer) -> None:
    """Raises NotFound for one who was erased already, Conflict while a ticket is open."""
    if customer.erased_at is not None:
        raise NotFound(say("This customer was erased already."))
    numbers = erasing.open_tickets(store, customer.id)
    if numbers:
        listed = ", ".join(str(number) for number in numbers)
        raise Conflict(
            say_n(
                "Ticket {numbers} is still open. Hand over its items first, then erase.",
                "Tickets {numbers} are still open. Hand over their items first, then erase.",
                len(numbers),
                numbers=listed,
            )
        )


def prove(data_dir: Path, customer: Customer) -> Proof:
    """Reads the file, its log, every photo and signature, for the person's own words as bytes."""
    looked = [path for path in (data_dir / f"shop.db{side}" for side in SIDES) if path.is_file()]
    looked += [
        path
        for folder in ("photos", "signatures")
        for path in sorted((data_dir / folder).glob("*"))
        if path.is_file()
    ]
    searched = byte_search.search(looked, _own_words(customer))
    return Proof(searched, (data_dir / erased_list.UNSWEPT).exists())


def _own_words(customer: Customer) -> list[str]:
    if customer.erased_at is not None:
        return []
    return [
        one
        for one in (
            customer.name,
            customer.phone_typed,
            customer.phone_e164,
            customer.email,
            customer.note,
        )
        if one
    ]


def erase_again(store: Store, data_dir: Path, now: datetime) -> int:
    """After an older copy was brought back: takes everybody out who was erased since. How many."""
    back = [line for line in erased_list.noted(data_dir) if erasing.is_back(store, line)]
    for line in back:
        _erase_line(store, Act(now), line)
    erased_list.mark_unswept(data_dir)
    job_log.drop_evenings(data_dir)
    sweep(store, data_dir, data_dir / "copies")
    return len(back)


def _erase_line(store: Store, act: Act, line: erased_list.Erased) -> None:
    """What came in after the copy was made has other files; the list has both."""

    def write() -> Written:
        cleared = erasing.clear(store, act, line.customer_id)
        erased_list.note(store.path.parent, cleared)
        return Written(
            row_id=line.customer_id, detail={"customer": line.customer_id, "again": True}
        )

    store.once(act, "customer-erased", write)


def tidy(store: Store, data_dir: Path, folder: Path, now: datetime) -> dict[str, int]:
    """Every night: photos so many days after pickup, legs after so many months, what a power cut
    left of erasing, pictures without a row.

    folder: where the copies lie. Returns how many photos and readings went, for the audit.
    """
    shop = read(store)
    went = _forget(store, shop, now)
    with (
        store.write_tx()
    ):  # forms that nobody went on with, those that came after signing out among them
        drafts.drop_before(store, utc_text(now - timedelta(days=KEEP_DAYS)))
    pictures.remove(data_dir, pictures.strays(store, data_dir, now - timedelta(days=KEPT_DAYS)))
    erase_noted(store, data_dir, folder, now)
    return went


def erase_noted(store: Store, data_dir: Path, folder: Path, now: datetime) -> None:
    """What a power cut left of erasing. folder: where the copies lie."""
    for line in erased_list.noted(data_dir):
        if erasing.is_back(store, line):
            _erase_line(store, Act(now), line)
    sweep(store, data_dir, folder)


def _forget(store: Store, shop: Shop, now: datetime) -> dict[str, int]:
    photos_before = utc_text(now - timedelta(days=shop.photo_days))
    legs_before = utc_text(now - timedelta(days=shop.measure_months * MONTH_DAYS))
    went = {"photos": 0, "readings": 0}

    def write() -> Written:
        merged = merges.forget(store, utc_text(now - timedelta(days=merges.UNDO_DAYS)))
        files = erasing.photos_over(store, photos_before)
        erasing.forget_photos(store, Act(now), files)
        went.update(photos=len(files), readings=erasing.forget_legs(store, legs_before))
        if merged or any(went.values()):
            erased_list.mark_unswept(store.path.parent)
        return Written(detail=dict(went))

    store.once(Act(now), "tidied", write)
    return went


def sweep(store: Store, data_dir: Path, folder: Path, *, by_follower: bool = False) -> None:
    """What was erased leaves the folders and the shop's file. folder: of the copies, or the second
    place.

    Files first: they go at once, also while somebody reads the shop's file for so long that it
    stays to be swept. Where a second place follows the file, only what follows it may write it
    anew: by_follower, while it stands still.
    """
    _remove_files(store, data_dir, folder)
    if (data_dir / erased_list.UNSWEPT).exists() and (
        by_follower or not job_log.is_followed(data_dir)
    ):
        with suppress(Unavailable):
            erasing.scrub(store)


def erased_files(data_dir: Path) -> set[str]:
    """The pictures, as folder/name, that no copy may hold any more."""
    store = open_store(data_dir / backup.SHOP)
    try:
        return _erased_files(store, data_dir)
    finally:
        store.close()


def _erased_files(store: Store, data_dir: Path) -> set[str]:
    return {
        *erasing.erased_photos(store),
        *(file for line in erased_list.noted(data_dir) for file in line.files),
    }


def _remove_files(store: Store, data_dir: Path, folder: Path) -> None:
    files = sorted(_erased_files(store, data_dir))
    for place in (data_dir, folder):
        pictures.remove(place, files)
