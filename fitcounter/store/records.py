"""The rows as records: one a table, named and typed as its columns. Store modules hand these out.

They are tuples with names: a frozen dataclass takes four times as long to make, of each row and,
at the start, of the kind itself. What is copied with a change, written down field by field or made
out of what is stored remains one.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from fitcounter.fit.item_names import LET_IN, State, Work

# By their stored text: the enum's own call takes longer, and a list has hundreds of items.
_STATES: dict[str, State] = {state.value: state for state in State}
_WORKS: dict[str, Work] = {work.value: work for work in Work}


class Role(StrEnum):
    """What a person of the shop does here, as it is stored."""

    COUNTER = "counter"
    BENCH = "bench"
    OWNER = "owner"


@dataclass(frozen=True, slots=True)
class Person:
    """A row of staff without its hashes. language: of their pages, "" for the shop's own."""

    id: int
    name: str
    initials: str
    role: Role
    active: int
    version: int
    language: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "role", Role(self.role))


class Customer(NamedTuple):
    id: int
    name: str
    phone_typed: str
    phone_e164: str
    phone_last4: str
    email: str
    language: str
    note: str
    created_at: str
    erased_at: str | None
    version: int


class Ticket(NamedTuple):
    id: int
    number: int
    customer_id: int
    opened_at: str
    needed_by: str | None
    hope_day: str | None
    promise_day: str | None
    pickup_day: str | None
    worn_with: str
    price_kind: str
    currency: str
    tax_basis_points: int
    tax_included: int
    rounds_included: int
    note: str
    state: str
    come_twice: int
    handed_over_at: str | None
    collected_by: str
    guarantee_end: str | None
    link_until: str | None
    link_revoked_at: str | None
    returns_ticket_id: int | None
    rush: int
    version: int


class Fit(NamedTuple):
    """What both boots of a pair share. instead: what is sewn in in place of stretching."""

    id: int
    ticket_id: int
    unit: str
    posture: str
    over: str
    layer_um: int
    part_of_day: str
    marked: int
    on_block: int
    ease: str
    ease_um: int | None
    limits: str
    hold_h: int
    max_rounds: int
    version: int
    instead: str = ""


@dataclass(frozen=True, slots=True)
class Item:
    id: int
    ticket_id: int
    fit_id: int | None
    letter: str
    kind: str
    side: str | None
    work: Work
    description: str
    jobs: str
    material: str
    lining: str
    age: str
    signed_off: int
    thickness_um: int
    lining_um: int
    wall_um: int
    closure: str
    zip: str
    elastic: str
    rigid: str
    throat_um: int | None
    heel_um: int | None
    method: str
    heights_from: str
    seat_um: int
    shaft_um: int
    rise_um: int
    mark_um: int | None
    target: str
    state: State
    state_before: str
    waits_for: str
    since: str
    shelf: str
    shaper: str
    promised_day: str | None
    tried_on: str
    note: str
    version: int
    ends_below: int
    waits_what: str
    cancelled: str = ""
    half_done: int = 0
    cancel_why: str = ""

    @property
    def made_wider(self) -> bool:
        """A boot that is stretched, or gets leather or elastic let in."""
        let_in = LET_IN & set(self.jobs.split(", "))
        return self.side is not None and (self.work == Work.STRETCH or bool(let_in))

    def __post_init__(self) -> None:
        object.__setattr__(self, "work", _WORKS[self.work])
        object.__setattr__(self, "state", _STATES[self.state])


class Tag(NamedTuple):
    id: int
    code: str
    number: int | None
    side: str | None
    item_id: int | None
    tree_id: int | None
    printed_at: str
    bound_at: str | None
    died_at: str | None
    replaced_by: int | None


@dataclass(frozen=True, slots=True)
class PriceLine:
    id: int
    ticket_id: int
    item_id: int | None
    position: int
    what: str
    kind: str
    quantity: int
    amount_minor: int
    taxable: int = 1
    why: str = ""
    billed_at: str | None = None


class Payment(NamedTuple):
    id: int
    ticket_id: int
    at: str
    kind: str
    amount_minor: int
    staff_id: int | None
    note: str
    method: str = ""
    tip_minor: int = 0


class Consent(NamedTuple):
    id: int
    ticket_id: int
    text_version: str
    sentences: str
    name: str
    initials: str
    signature_file: str
    agreed_at: str
    staff_id: int | None
    how: str = ""
    why: str = ""
    price: str = ""


class Finding(NamedTuple):
    id: int
    item_id: int
    moment: str
    round_n: int | None
    word: str
    place: str
    note: str
    seen_at: str
    staff_id: int | None


class Photo(NamedTuple):
    id: int
    ticket_id: int
    item_id: int | None
    moment: str
    round_n: int | None
    file: str
    width_px: int
    height_px: int
    bytes: int
    content_hash: str
    taken_at: str
    staff_id: int | None
    erased_at: str | None
    view: str = ""


class LegReading(NamedTuple):
    fit_id: int
    side: str
    moment: str
    station: str
    height_um: int
    height_text: str
    girth_um: int
    girth_text: str
    unit: str
    repeat: int
    read_at: str
    staff_id: int | None


class GapReading(NamedTuple):
    id: int
    item_id: int
    kind: str
    height_um: int
    height_text: str
    gap_um: int
    gap_text: str
    unit: str
    repeat: int
    read_at: str
    staff_id: int | None


class BootReading(NamedTuple):
    item_id: int
    moment: str
    height_um: int
    height_text: str
    girth_um: int
    girth_text: str
    unit: str
    method: str
    repeat: int
    read_at: str
    staff_id: int | None
