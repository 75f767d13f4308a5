"""The shop's people: who they are, what they may do, and the secrets they are known by."""

from __future__ import annotations

import re
from typing import NamedTuple

from fitcounter.desk import shop
from fitcounter.desk.common.catalogues import language_codes
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.staff import passphrase_and_pin, signed_out_forms
from fitcounter.errors import BadInput, NotFound
from fitcounter.store import drafts, sessions, staff
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Person, Role

ROLES: dict[str, str] = {
    Role.COUNTER: marked("Counter"),
    Role.BENCH: marked("Bench"),
    Role.OWNER: marked("Owner"),
}
LONGEST_NAME, LONGEST_INITIALS = 60, 4


def role_words() -> dict[str, str]:
    """What each role is called, in the language spoken now."""
    return {role: say(words) for role, words in ROLES.items()}


class StaffRow(NamedTuple):
    """One line of the list. has_pin: can be at a phone of the shop."""

    person: Person
    has_pin: bool


def listed(store: Store) -> list[StaffRow]:
    """Everybody, those who left last."""
    with_pin = staff.with_pin(store)
    return [StaffRow(person, person.id in with_pin) for person in staff.with_former(store)]


def here(store: Store) -> list[Person]:
    """Those who work here now, by initials."""
    return staff.everybody(store)


def get(store: Store, staff_id: int) -> Person:
    """Raises NotFound."""
    person = staff.get(store, staff_id)
    if person is None:
        raise NotFound(say("No such person in this shop. Pick one from the list."))
    return person


def add_person(
    store: Store, act: Act, name: str, initials: str, role: str, passphrase: str, pin: str = ""
) -> Written:
    """A new person. Raises BadInput at the fields."""
    passphrase_and_pin.good_passphrase(passphrase, (shop.read(store).name, name))
    hashes = {
        "passphrase_hash": passphrase_and_pin.hash_secret(passphrase),
        "pin_hash": (
            passphrase_and_pin.hash_secret(passphrase_and_pin.good_pin(pin)) if pin else None
        ),
    }

    def write() -> Written:
        columns = checked(store, name, initials, role)
        row_id = store.insert("staff", **columns, **hashes, created_at=utc_text(act.at))
        return Written(row_id=row_id, detail={"staff": row_id, "role": role})

    return store.once(act, "staff-added", write)


def change_person(
    store: Store, act: Act, staff_id: int, version: int | None, name: str, initials: str, role: str
) -> Written:
    """Another name, other initials, another role. Raises BadInput, Conflict."""
    person = get(store, staff_id)
    columns = checked(store, name, initials, role, staff_id)

    def write() -> Written:
        if person.role is Role.OWNER and role != Role.OWNER:
            _another_owner(store, staff_id)
        store.change("staff", staff_id, version or person.version, **columns)
        if role != person.role:  # what was proved in the old role is proved no more
            sessions.end(store, utc_text(act.at), staff_id=staff_id)
            sessions.forget_person(store, staff_id)
        return Written(row_id=staff_id, words="saved", detail={"staff": staff_id, "role": role})

    return store.once(act, "staff-changed", write)


def set_language(store: Store, act: Act, staff_id: int, code: str) -> Written:
    """The language of this person's pages from now on. code: "" for the shop's own.

    Raises BadInput.
    """
    person = get(store, staff_id)
    if code and code not in language_codes():
        raise BadInput(say("Pick one of the languages on the page."), typed=code, field="language")

    def write() -> Written:
        store.change("staff", staff_id, person.version, language=code)
        return Written(row_id=staff_id, words="saved", detail={"staff": staff_id, "language": code})

    return store.once(act, "staff-language", write)


def set_active(store: Store, act: Act, staff_id: int, active: bool) -> Written:
    """Somebody leaves, and every session of theirs ends at once; or comes back."""
    person = get(store, staff_id)

    def write() -> Written:
        if not active and person.role is Role.OWNER:
            _another_owner(store, staff_id)
        store.change("staff", staff_id, person.version, active=int(active))
        if not active:
            sessions.end(store, utc_text(act.at), staff_id=staff_id)
            drafts.drop_of(store, signed_out_forms.KIND, staff_id)
            sessions.forget_person(store, staff_id)
        return Written(
            row_id=staff_id,
            words="back" if active else "gone",
            detail={"staff": staff_id, "active": active},
        )

    return store.once(act, "staff-back" if active else "staff-left", write)


def checked(
    store: Store, name: str, initials: str, role: str, staff_id: int = 0
) -> dict[str, object]:
    """The columns of a person as typed.

    staff_id: of somebody who has these initials already. Raises BadInput at the fields.
    """
    name, initials = name.strip(), initials.strip().upper()
    if not name or len(name) > LONGEST_NAME:
        raise BadInput(
            say("Type a name of at most {most} characters.", most=LONGEST_NAME),
            typed=name,
            field="name",
        )
    if not re.fullmatch(rf"[^\W_]{{1,{LONGEST_INITIALS}}}", initials):
        raise BadInput(
            say("Type one to {most} letters or digits, like CO.", most=LONGEST_INITIALS),
            typed=initials,
            field="initials",
        )
    if staff.taken(store, initials, staff_id):
        raise BadInput(
            say("These initials are taken. Add a letter."), typed=initials, field="initials"
        )
    if role not in ROLES:
        raise BadInput(
            say("Pick what they do here: counter, bench or owner."), typed=role, field="role"
        )
    return {"name": name, "initials": initials, "role": role}


def _another_owner(store: Store, staff_id: int) -> None:
    """Somebody must be able to open the Shop place.

    Inside a write, or two owners who take each other out at once leave nobody.
    """
    if staff.owners(store, staff_id) == 0:
        raise BadInput(say("The shop needs an owner. Make someone else owner first."), field="role")
