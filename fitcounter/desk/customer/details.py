"""A customer's details changed: name, phone, e-mail, language and note of one the shop knows."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import NamedTuple

from fitcounter.desk.common import two_people_changed
from fitcounter.desk.common.catalogues import language_codes
from fitcounter.desk.common.contact import read_phone
from fitcounter.desk.common.mail import read_email
from fitcounter.desk.common.translation import marked, say, say_later
from fitcounter.desk.quote.agree import TWO_PEOPLE
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, NotFound
from fitcounter.store import customers, erasing, tickets
from fitcounter.store.database import Act, Store, Written
from fitcounter.store.records import Customer, Ticket

LONGEST_NAME, LONGEST_NOTE = 80, 1000
NO_NAME = say_later("Type the customer’s name.")
SAVED = marked("{name}’s details are saved.")
SHARED = marked("{name}’s details are saved. Another customer has this phone number too.")


@dataclass(frozen=True, slots=True)
class Details:
    """As typed at the counter. language: a code of catalogues.language_codes()."""

    name: str
    phone: str
    email: str
    language: str
    note: str


class SeenDetails(NamedTuple):
    """What stood on the page: the customer's version, None when it is saved again and meant so;
    and the fields, None where the form does not say.
    """

    version: int | None = None
    details: Details | None = None


UNSEEN = SeenDetails()


def look(store: Store, ticket_id: int) -> tuple[Ticket, Customer]:
    """The ticket and whose it is. Raises NotFound, also for one who was erased."""
    ticket = tickets.get(store, ticket_id)
    customer = customers.get(store, ticket.customer_id)
    if customer.erased_at is not None:
        raise NotFound(say("This customer’s data was erased, so there is nothing to change."))
    return ticket, customer


def put_right(
    store: Store,
    act: Act,
    shop: Shop,
    ticket_id: int,
    typed: Details,
    seen_as: SeenDetails = UNSEEN,
) -> Written:
    """What differs is stored; where nothing does, nothing is written.

    seen_as: what stood on the page. What somebody else changed meanwhile stays: only a field that
    both changed is asked about, and of a note both texts are kept. Raises BadInput at the field,
    Conflict, NotFound.
    """
    _, seen = look(store, ticket_id)
    columns = checked(shop, seen, typed)
    if not _differing(seen, columns):
        return Written(ticket_id, words=say(SAVED, name=seen.name))

    def write() -> Written:
        _, customer = look(store, ticket_id)  # again: the customer may have been erased since
        changed = _mine(customer, columns, seen_as)
        if "name" in changed:
            changed["name_key"] = customers.name_key(typed.name)
        erasing.mark_drafts(store, customer.id)
        store.change("customers", customer.id, customer.version, **changed)
        is_shared = "phone_typed" in changed and _shared(store, customer.id)
        words = say(SHARED if is_shared else SAVED, name=typed.name)
        return Written(
            ticket_id, words=words, detail={"customer": customer.id, "changed": sorted(changed)}
        )

    return store.once(act, "customer-changed", write)


def _mine(customer: Customer, columns: dict[str, str], seen_as: SeenDetails) -> dict[str, str]:
    """What this person changed, over what stands now. Raises Conflict where both changed a field
    and it is not saved again.
    """
    if seen_as.version in (None, customer.version) and seen_as.details is None:
        return _differing(customer, columns)
    if seen_as.details is None:
        raise Conflict(say(TWO_PEOPLE))
    was = {**columns, **asdict(seen_as.details)}
    was["phone_typed"] = was.pop("phone")
    theirs = {name: str(getattr(customer, name)) for name in columns}
    changed, both = two_people_changed.merged(was, theirs, columns, ("note",))
    if "phone_typed" in changed:
        changed |= {name: columns[name] for name in columns if name.startswith("phone_")}
    if both and seen_as.version not in (None, customer.version):
        raise Conflict(say(TWO_PEOPLE))
    return changed


def checked(shop: Shop, customer: Customer, typed: Details) -> dict[str, str]:
    """The columns of a customer as typed.

    A number that was not touched stays as it was understood. Raises BadInput at the field.
    """
    if not typed.name or len(typed.name) > LONGEST_NAME:
        raise BadInput(str(NO_NAME), typed=typed.name, field="name")
    number = {
        "phone_typed": customer.phone_typed,
        "phone_e164": customer.phone_e164,
        "phone_last4": customer.phone_last4,
    }
    if typed.phone.strip() != customer.phone_typed:
        phone = read_phone(typed.phone, shop.country)
        number = {"phone_typed": phone.typed, "phone_e164": phone.e164, "phone_last4": phone.last4}
    email = read_email(typed.email)
    if typed.language not in language_codes():
        raise BadInput(
            say("Pick one of the languages on the page."), typed=typed.language, field="language"
        )
    return {
        "name": typed.name,
        **number,
        "email": email,
        "language": typed.language,
        "note": typed.note,
    }


def _differing(customer: Customer, columns: dict[str, str]) -> dict[str, str]:
    return {name: value for name, value in columns.items() if getattr(customer, name) != value}


def _shared(store: Store, customer_id: int) -> bool:
    """Has another customer the number that this one has now?"""
    now = customers.get(store, customer_id)
    same = customers.by_phone(store, now.phone_e164, now.phone_last4) if now.phone_last4 else []
    return any(one.id != customer_id for one in same)
