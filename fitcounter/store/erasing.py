"""Taking a person out of the shop's file, and readings and photos whose time is over. What was done
to the boots stays.

GDPR Article 17 (erasure) and 5(1)(e) (no longer than needed): names, numbers, words about a person,
legs and pictures go; tickets, rounds, money and the audit stay without a name.
"""

from __future__ import annotations

from collections.abc import Iterator

from fitcounter.errors import Unavailable, message
from fitcounter.store import merges
from fitcounter.store.customers import name_key
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.drafts import Draft
from fitcounter.store.erased_list import UNSWEPT, Erased
from fitcounter.store.pictures import is_name
from fitcounter.store.refusals import operational
from fitcounter.store.sqlite_build import dbapi

NAME = "erased"
_TICKETS = "(SELECT id FROM tickets WHERE customer_id = ?)"
_ITEMS = f"(SELECT id FROM items WHERE ticket_id IN {_TICKETS})"
_FITS = f"(SELECT id FROM fits WHERE ticket_id IN {_TICKETS})"

# Each takes the customer's id. Words about the work itself (what was agreed, done, found) are the
# shop's own record and stay.
_CLEAR = (
    (
        f"UPDATE consents SET name = '{NAME}', initials = '', signature_file = '', why = '',"
        f" price = '' WHERE ticket_id IN {_TICKETS}"
    ),
    f"UPDATE payments SET note = '' WHERE ticket_id IN {_TICKETS}",
    (
        "UPDATE items SET note = '', waits_what = '', cancel_why = '', heel_um = NULL WHERE"
        f" ticket_id IN {_TICKETS}"
    ),
    f"UPDATE price_lines SET why = '' WHERE ticket_id IN {_TICKETS}",
    f"UPDATE handovers SET collected_by = '' WHERE ticket_id IN {_TICKETS}",
    f"UPDATE findings SET note = '' WHERE item_id IN {_ITEMS}",
    f"UPDATE work_lines SET note = '' WHERE item_id IN {_ITEMS}",
    f"UPDATE incidents SET agreed = '' WHERE item_id IN {_ITEMS}",
    f"UPDATE predictions SET assessment = '{{}}' WHERE item_id IN {_ITEMS}",
    f"UPDATE calls SET note = '' WHERE ticket_id IN {_TICKETS}",
    (
        "UPDATE follow_ups SET place = '', said = '', answer = '', felt = '' WHERE ticket_id IN"
        f" {_TICKETS}"
    ),
    f"DELETE FROM wear_feelings WHERE ticket_id IN {_TICKETS}",
    f"UPDATE wear_advice SET note = '' WHERE ticket_id IN {_TICKETS}",
    (
        "UPDATE comebacks SET said = '', answer = '', leg_change_um = NULL WHERE ticket_id IN"
        f" {_TICKETS}"
    ),
    # what a comeback answered says how much fuller a leg was
    (
        "UPDATE submissions SET result = json_set(result, '$[3]', '')"
        f" WHERE json_extract(result, '$[3]') <> '' AND json_extract(result, '$[0]') IN {_TICKETS}"
    ),
    f"UPDATE mails SET state = 'dropped' WHERE state = 'waiting' AND ticket_id IN {_TICKETS}",
    "DELETE FROM mail_stops WHERE customer_id = ?",
    f"DELETE FROM pushes WHERE ticket_id IN {_TICKETS}",
    f"DELETE FROM push_phones WHERE ticket_id IN {_TICKETS}",
    f"DELETE FROM undos WHERE item_id IN {_ITEMS}",
    f"DELETE FROM gap_readings WHERE item_id IN {_ITEMS}",
    f"DELETE FROM leg_readings WHERE fit_id IN {_FITS}",
    (
        "UPDATE tickets SET note = '', collected_by = '', worn_with = '', link_hash = NULL,"
        " link_code_hash = NULL, share_hash = NULL WHERE customer_id = ?"
    ),
    (
        f"UPDATE customers SET name = '{NAME}', name_key = '', phone_typed = '', phone_e164 = '',"
        " phone_last4 = '', email = '', note = '' WHERE id = ?"
    ),
)


def open_tickets(store: Store, customer_id: int) -> list[int]:
    """Their numbers."""
    rows = store.rows(
        "SELECT number FROM tickets WHERE customer_id = ? AND state = 'open' ORDER BY number",
        customer_id,
    )
    return [int(row["number"]) for row in rows]


def files_of(store: Store, customer_id: int) -> tuple[str, ...]:
    """Photos and signatures as folder/name; a name that leads elsewhere is no picture's."""
    photos = store.rows(f"SELECT file FROM photos WHERE ticket_id IN {_TICKETS}", customer_id)
    signed = store.rows(
        f"SELECT signature_file FROM consents WHERE ticket_id IN {_TICKETS}", customer_id
    )
    return (
        *(f"photos/{row['file']}" for row in photos if is_name(row["file"])),
        *(
            f"signatures/{row['signature_file']}"
            for row in signed
            if is_name(row["signature_file"])
        ),
    )


def clear(store: Store, act: Act, customer_id: int) -> Erased:
    """Takes a person out of every table, inside a write. The files are the caller's to remove."""
    held = store.rows("SELECT * FROM customers WHERE id = ?", customer_id)[0]
    line = Erased(
        customer_id, str(held["created_at"]), utc_text(act.at), files_of(store, customer_id)
    )
    for draft in _drafts_about(store, customer_id, held):
        store.db.execute("DELETE FROM drafts WHERE id = ?", [draft.id])
    photos = f"UPDATE photos SET erased_at = coalesce(erased_at, ?) WHERE ticket_id IN {_TICKETS}"
    store.db.execute(photos, [line.at, customer_id])
    for statement in _CLEAR:
        store.db.execute(statement, [customer_id])
    merges.forget_of(store, customer_id)
    store.change("customers", customer_id, erased_at=line.at)
    store.insert("erasures", customer_id=customer_id, at=line.at)
    return line


def merged_lines(store: Store, line: Erased) -> list[Erased]:
    """For an older copy, in which the entries that went into this one still have their names."""
    into = merges.merged_into(store, line.customer_id)
    return [Erased(other_id, created_at, line.at, ()) for other_id, created_at in into]


def mark_drafts(store: Store, customer_id: int) -> None:
    """Before a name or a number is put right, inside a write: what was begun under the old one
    still goes when she is erased.
    """
    held = store.rows("SELECT * FROM customers WHERE id = ?", customer_id)[0]
    for draft in list(_drafts_about(store, customer_id, held)):
        store.db.execute("UPDATE drafts SET customer_id = ? WHERE id = ?", [customer_id, draft.id])


def _drafts_about(store: Store, customer_id: int, held: dict[str, object]) -> Iterator[Draft]:
    """Forms that were begun with the person's name, number or address in them, or were sent to one
    of their tickets.
    """
    known = {
        name_key(str(held["name"])),
        str(held["phone_e164"]),
        _figures(str(held["phone_e164"])),
        _figures(str(held["phone_typed"])),
        str(held["email"]).casefold(),
    } - {""}
    tickets = {
        str(row["id"])
        for row in store.rows("SELECT id FROM tickets WHERE customer_id = ?", customer_id)
    }
    items = {
        str(row["id"])
        for row in store.rows(f"SELECT id FROM items WHERE ticket_id IN {_TICKETS}", customer_id)
    }
    marked = {
        str(row["id"])
        for row in store.rows("SELECT id FROM drafts WHERE customer_id = ?", customer_id)
    }
    for draft in store.all(Draft, "SELECT * FROM drafts"):
        values = [value for _, value in draft.typed]
        forms = {
            form
            for value in (*values, draft.words)
            for form in (name_key(value), _figures(value), value.strip().casefold())
        }
        place = draft.words.strip("/").split("/")[
            :2
        ]  # a form that came after signing out is called by where it was sent to
        theirs = len(place) == 2 and place[1] in (
            items if place[0] == "items" else tickets if place[0] in ("tickets", "pickup") else ()
        )
        if theirs or known & forms or draft.id in marked:
            yield draft


def _figures(typed: str) -> str:
    figures = "".join(one for one in typed if one.isdigit())
    return figures if len(figures) >= 7 else ""


def photos_over(store: Store, before: str) -> list[str]:
    """Files of photos whose ticket was handed over before an instant (UTC text) and is not open
    again.
    """
    sql = (
        "SELECT p.file FROM photos p JOIN tickets t ON t.id = p.ticket_id"
        " WHERE p.erased_at IS NULL AND t.state <> 'open' AND t.handed_over_at < ? ORDER BY p.id"
    )
    return [str(row["file"]) for row in store.rows(sql, before)]


def forget_photos(store: Store, act: Act, files: list[str]) -> None:
    """Inside a write; the rows stay as a count."""
    for file in files:
        store.db.execute("UPDATE photos SET erased_at = ? WHERE file = ?", [utc_text(act.at), file])


def forget_legs(store: Store, before: str) -> int:
    """Legs read before an instant, on tickets that are not open, inside a write.

    How many readings went.
    """
    done = "(SELECT id FROM tickets WHERE state <> 'open')"
    items = f"(SELECT id FROM items WHERE ticket_id IN {done})"
    legs = store.db.execute(
        "DELETE FROM leg_readings WHERE read_at < ? AND fit_id IN (SELECT id FROM fits WHERE"
        f" ticket_id IN {done})",
        [before],
    )
    gaps = store.db.execute(
        f"DELETE FROM gap_readings WHERE read_at < ? AND item_id IN {items}", [before]
    )
    told = (
        "UPDATE predictions SET assessment = '{}' WHERE assessment <> '{}' AND made_at < ? AND"
        f" item_id IN {items}"
    )
    return int(legs.rowcount + gaps.rowcount + store.db.execute(told, [before]).rowcount)


def scrub(store: Store) -> None:
    """Writes the file anew without what was erased, and empties its log.

    Raises Unavailable while somebody reads for long.
    """
    rewrite(store)
    (store.path.parent / UNSWEPT).unlink(missing_ok=True)


def is_back(store: Store, line: Erased) -> bool:
    """Is the person of this line in the file with a name, as after an older copy was brought
    back?
    """
    sql = "SELECT 1 FROM customers WHERE id = ? AND created_at = ? AND erased_at IS NULL"
    return store.value(sql, line.customer_id, line.created_at) is not None


def erased_photos(store: Store) -> list[str]:
    """Files that no copy needs any more, as folder/name."""
    return [
        f"photos/{row['file']}"
        for row in store.rows("SELECT file FROM photos WHERE erased_at IS NOT NULL")
    ]


def rewrite(store: Store) -> None:
    """Writes the whole file anew, so that no page keeps bytes of rows that went, and empties
    its log. Outside a write.

    secure_delete wipes the cells that went but not what page splits left behind; VACUUM copies
    living rows alone. Raises Unavailable while somebody else reads or writes for longer than
    the busy time.
    """
    try:
        store.db.execute("PRAGMA temp_store=MEMORY")  # no second copy on the disk
        store.db.execute("VACUUM")
        row = store.db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    except dbapi.OperationalError as error:
        raise operational(error) from error
    if row is not None and row[0]:
        raise Unavailable(
            message(
                "Somebody else is reading the shop's file. What was erased leaves it with the"
                " next copy; nothing is lost."
            )
        )
