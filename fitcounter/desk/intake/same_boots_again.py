"""The same boots again: a new ticket that knows the old one.

What was read then is shown, and asked again; never silently used.
"""

from __future__ import annotations

from fitcounter.desk.common.state_changes import StepInput, write_step
from fitcounter.desk.common.translation import say
from fitcounter.desk.intake.item_rows import LETTERS
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict
from fitcounter.store import customers, fits, items, tickets
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import Fit, Item

# What belongs to the boot itself and goes on with it; where it stands, its target and its shelf are
# of the old job.
OF_THE_BOOT = (
    "kind",
    "side",
    "work",
    "description",
    "material",
    "lining",
    "age",
    "signed_off",
    "thickness_um",
    "lining_um",
    "wall_um",
    "closure",
    "zip",
    "elastic",
    "rigid",
    "throat_um",
    "method",
    "heights_from",
    "seat_um",
    "shaft_um",
    "rise_um",
    "target",
)
OF_THE_FIT = (
    "unit",
    "posture",
    "over",
    "layer_um",
    "marked",
    "on_block",
    "ease",
    "ease_um",
    "max_rounds",
)


def take_in_again(store: Store, act: Act, shop: Shop, ticket_id: int) -> Written:
    """Opens a new ticket for the same customer with the same boots, at the counter. row_id: the fit
    to be measured.

    Raises NotFound; BadInput when they are still here, or there were no boots; Conflict when they
    were taken in again already.
    """

    def write() -> Written:
        old = tickets.get(store, ticket_id)
        customers.not_erased(store, ticket_id)
        pairs = fits.of_ticket(store, ticket_id)
        boots = [(fit, boot) for fit in pairs for boot in fits.boots(store, fit.id)]
        if not boots:
            raise BadInput(say("That ticket had no boots. Open a new job."))
        if any(boot.state not in ("out", "closed") for _, boot in boots):
            raise BadInput(say("These boots are still here. Open their ticket."))
        here = tickets.open_again(store, old.id)
        if here is not None:
            raise Conflict(
                say("These boots are already back, as ticket {number}.", number=here.number),
                ticket_id=here.id,
            )
        money = {
            "currency": shop.currency,
            "tax_basis_points": shop.tax_basis_points,
            "tax_included": int(shop.tax_included),
        }
        kind = {
            "price_kind": shop.price_kind,
            "rounds_included": shop.rounds_included,
            "worn_with": old.worn_with,
        }
        fresh = tickets.add(store, act, old.customer_id, returns_ticket_id=old.id, **money, **kind)
        made = {fit.id: _copy_fit(store, shop, fit, fresh) for fit in pairs}
        letters = dict(
            zip(made, LETTERS, strict=False)
        )  # a pair has one, also where another came as a single boot
        for fit, boot in boots:
            _copy_boot(store, act, boot, fresh, made[fit.id], letters[fit.id])
        return Written(
            fresh, row_id=made[pairs[0].id], detail={"again": old.id, "boots": len(boots)}
        )

    return store.once(act, "taken-in-again", write)


def _copy_fit(store: Store, shop: Shop, fit: Fit, ticket_id: int) -> int:
    kept = {name: value for name, value in fit._asdict().items() if name in OF_THE_FIT}
    return store.insert("fits", ticket_id=ticket_id, limits=shop.limits, hold_h=shop.hold_h, **kept)


def _copy_boot(
    store: Store, act: Act, boot: Item, ticket_id: int, fit_id: int, letter: str
) -> None:
    """The boot as it was described; its leather has been stretched before, so its first girth is
    not known any more.
    """
    kept = {name: getattr(boot, name) for name in OF_THE_BOOT}
    where = {
        "ticket_id": ticket_id,
        "fit_id": fit_id,
        "letter": letter,
        "state": "expected",
        "since": utc_text(act.at),
    }
    item_id = store.insert("items", **where, **kept)
    seen = {
        "item_id": item_id,
        "moment": "before",
        "word": "prior-stretch",
        "seen_at": utc_text(act.at),
    }
    store.insert("findings", **seen, staff_id=act.staff_id)
    write_step(store, act, items.get(store, item_id), "arrive", StepInput(act.at))
