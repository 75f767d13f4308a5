"""The shop's customers: found by the number they say, or by a piece of their name."""

from __future__ import annotations

import unicodedata

from fitcounter.errors import NotFound, message
from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Customer


def name_key(name: str) -> str:
    """A name as it is searched: without accents, capitals, hyphens and stray spaces; words in
    order, a space before each.
    """
    plain = "".join(
        one for one in unicodedata.normalize("NFKD", name) if not unicodedata.combining(one)
    )
    return "".join(f" {word}" for word in plain.casefold().replace("-", " ").split())


def get(store: Store, customer_id: int) -> Customer:
    """Raises NotFound."""
    found = store.first(Customer, "SELECT * FROM customers WHERE id = ?", customer_id)
    if found is None:
        raise NotFound(message("No such customer. Search by phone number or name."))
    return found


def languages_of(store: Store) -> list[str]:
    """The code of every language that some customer reads."""
    # from one language to the next, by the index: DISTINCT would read every customer
    sql = """
WITH RECURSIVE known(language) AS (SELECT min(language) FROM customers WHERE erased_at IS NULL
  UNION ALL SELECT (SELECT min(language) FROM customers WHERE erased_at IS NULL
    AND language > known.language) FROM known WHERE known.language IS NOT NULL)
SELECT language FROM known WHERE language IS NOT NULL"""
    return [str(row["language"]) for row in store.rows(sql)]


def not_erased(store: Store, ticket_id: int) -> None:
    """Nothing of a person is written down any more on the ticket of somebody who was erased.

    Raises NotFound.
    """
    sql = (
        "SELECT 1 FROM tickets t JOIN customers c ON c.id = t.customer_id WHERE t.id = ? AND"
        " c.erased_at IS NOT NULL"
    )
    if store.value(sql, ticket_id) is not None:
        raise NotFound(
            message("The customer of this ticket was erased. Take the items in as a new job.")
        )


def last_four(store: Store, ticket_id: int) -> str:
    """The last four digits of the phone number behind a ticket, "" where none is known."""
    sql = (
        "SELECT c.phone_last4 FROM customers c JOIN tickets t ON t.customer_id = c.id"
        " WHERE t.id = ?"
    )
    return str(store.value(sql, ticket_id) or "")


def by_phone(store: Store, e164: str, last4: str) -> list[Customer]:
    """Who has this number: by the whole number where it is known, by its last four digits
    otherwise. Newest first.
    """
    if e164:
        sql = (
            "SELECT * FROM customers WHERE phone_e164 = ? AND erased_at IS NULL ORDER BY id DESC"
            " LIMIT 8"
        )
        return store.all(Customer, sql, e164)
    sql = (
        "SELECT * FROM customers WHERE phone_last4 = ? AND phone_last4 <> '' AND erased_at IS NULL"
        " ORDER BY id DESC LIMIT 8"
    )
    return store.all(Customer, sql, last4)


def by_name(store: Store, piece: str, most: int = 8) -> list[Customer]:
    """Whose name has a word that begins so. piece: at least two letters, as typed."""
    key = name_key(piece)
    if len(key.strip()) < 2:
        return []
    like = "".join(f"\\{one}" if one in "%_\\" else one for one in key)
    sql = (
        "SELECT * FROM customers WHERE name_key LIKE ? ESCAPE '\\' AND erased_at IS NULL ORDER BY"
        " name_key LIMIT ?"
    )
    return store.all(Customer, sql, f"%{like}%", most)


def add(
    store: Store,
    act: Act,
    name: str,
    phone: tuple[str, str, str] = ("", "", ""),
    email: str = "",
    language: str = "en",
) -> int:
    """A new customer, inside a write.

    phone: as typed, in E.164 ('' where it is not known), its last four digits. language: two
    letters, of what the customer reads.
    """
    typed, e164, last4 = phone
    row = {
        "name": name,
        "name_key": name_key(name),
        "phone_typed": typed,
        "phone_e164": e164,
        "phone_last4": last4,
    }
    row |= {"email": email, "language": language, "created_at": utc_text(act.at)}
    return store.insert("customers", **row)
