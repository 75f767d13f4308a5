"""A person's new passphrase or PIN: set by an owner, or by the person who typed the old one."""

from __future__ import annotations

from fitcounter.desk import shop
from fitcounter.desk.staff import passphrase_and_pin, people
from fitcounter.store import sessions, staff
from fitcounter.store.database import Act, Store, Written, utc_text


def set_secrets(
    store: Store,
    act: Act,
    staff_id: int,
    passphrase: str = "",
    pin: str = "",
    keep_session: int = 0,
) -> Written:
    """A new passphrase, a new PIN, or both.

    A new passphrase ends every session of the person but one. Raises BadInput.
    """
    person = people.get(store, staff_id)
    columns: dict[str, object] = {}
    if pin:
        columns["pin_hash"] = passphrase_and_pin.hash_secret(passphrase_and_pin.good_pin(pin))
    if passphrase:
        passphrase_and_pin.good_passphrase(passphrase, (shop.read(store).name, person.name))
        columns["passphrase_hash"] = passphrase_and_pin.hash_secret(passphrase)

    def write() -> Written:
        store.change("staff", staff_id, None, **columns)
        ended = (
            sessions.end(store, utc_text(act.at), staff_id=staff_id, but=keep_session)
            if passphrase
            else 0
        )
        sessions.forget_person(store, staff_id)
        return Written(
            row_id=staff_id,
            words="saved",
            detail={"staff": staff_id, "changed": sorted(columns), "sessions_ended": ended},
        )

    return store.once(act, "secrets-changed", write)


def is_passphrase(store: Store, staff_id: int, passphrase: str) -> bool:
    """Is it the person's own?"""
    return passphrase_and_pin.matches(passphrase, staff.secrets_of(store, staff_id).passphrase_hash)
