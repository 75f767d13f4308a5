"""Changing the price after it was agreed: another amount, a line more or less, a discount; why, and
the customer's yes. The agreement before stays as it was, beside its new copy.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import NamedTuple

from fitcounter.desk.common import files, money
from fitcounter.desk.common.translation import marked, say
from fitcounter.desk.quote import agreed_price, consent, rush
from fitcounter.desk.quote.agree import TWO_PEOPLE
from fitcounter.desk.quote.agreed_price import AgreedPrice
from fitcounter.desk.quote.signature import new_path, read_signature
from fitcounter.desk.shop import Shop
from fitcounter.desk.tickets import payments as tickets_payments
from fitcounter.errors import BadInput, Conflict, OutOfOrder
from fitcounter.store import bills, customers, tickets, works
from fitcounter.store.database import Act, Store, Written, utc_text
from fitcounter.store.records import PriceLine, Ticket

# How the customer said yes to it.
YES = {
    "signed": marked("Yes, here at the counter"),
    "phone": marked("Yes, by phone"),
    "text": marked("Yes, by text"),
    "within": marked("Within what was agreed before"),
}
LOWER = "lower"  # nobody need be asked
_PERCENT = re.compile(r"(\d{1,3}(?:[.,]\d{1,2})?)\s*%")


class LineInput(NamedTuple):
    """A line as it stands on the page. line_id: None for one more. what: "" takes it out.

    amount_minor: of a discount, how much it takes off.
    """

    line_id: int | None
    what: str
    amount_minor: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceChange:
    """discount: an amount or a percent as typed, "" for none; discount_why: its reason.

    yes: of YES, "" where it is not needed. name, signature: of who agreed. version: of the ticket
    as its page was shown. rush: a rush job from now on, or no more; None as it is.
    """

    lines: tuple[LineInput, ...]
    why: str
    discount: str = ""
    discount_why: str = ""
    yes: str = ""
    name: str = ""
    signature: str = ""
    version: int | None = None
    rush: bool | None = None


def may_change(store: Store, ticket: Ticket) -> bool:
    """A price was agreed, and the customer was not erased."""
    erased = customers.get(store, ticket.customer_id).erased_at is not None
    return not erased and bool(bills.lines(store, ticket.id))


def change(
    store: Store, act: Act, shop: Shop, ticket_id: int, typed: PriceChange, data_dir: Path
) -> Written:
    """Writes the new price and the customer's yes to it.

    Raises BadInput (field: why, discount, discount_why, yes, name, signature), Conflict (the price
    was changed meanwhile), OutOfOrder (nothing is agreed).
    """
    check(typed)
    picture, path = read_signature(typed.signature), new_path(data_dir, ticket_id)

    def write() -> Written:
        ticket = tickets.get(store, ticket_id)
        if not may_change(store, ticket):
            raise OutOfOrder(say("Nothing is agreed on this ticket yet, so no price can change."))
        if typed.version not in (None, ticket.version):
            raise Conflict(say(TWO_PEOPLE))
        before = agreed_price.standing(store, shop, ticket)
        keep_older(store, ticket, before)
        _write_lines(store, act, shop, ticket, typed)
        if ticket.state != "open":
            bills.bill(store, ticket.id, utc_text(act.at))
        after = agreed_price.raised(store, ticket, before.ceiling_minor)
        how = yes_to(ticket, typed, before, after)
        if picture:
            files.put(path, picture)
        agree_anew(store, act, ticket, typed, (how, path.name if picture else "", after))
        is_rush = rush.is_charged(bills.lines(store, ticket.id))
        store.change("tickets", ticket.id, ticket.version, rush=int(is_rush))
        detail = {"from": before.total_minor, "to": after.total_minor, "yes": how}
        amount = money.say(after.total_minor, ticket.currency)
        return Written(
            ticket_id, words=say("The total is {amount} now.", amount=amount), detail=detail
        )

    with files.only_with(path):
        return store.once(act, "price-changed", write)


def check(typed: PriceChange) -> None:
    """What can be said without the ticket. Raises BadInput."""
    if typed.discount and not typed.discount_why:
        raise BadInput(say("Type the reason of the discount."), field="discount_why")
    if not (typed.why or typed.discount_why or typed.rush is not None):
        raise BadInput(say("Type the reason in a few words."), field="why")
    for field in ("why", "discount_why"):
        text = getattr(typed, field)
        if tickets_payments.looks_like_card(text):
            raise BadInput(say(tickets_payments.NO_CARDS), typed=text, field=field)
    if typed.yes and typed.yes not in YES:
        raise BadInput(say("Pick how the customer agreed."), typed=typed.yes, field="yes")
    if typed.yes == "signed" and not typed.name.strip():
        raise BadInput(say("Type the customer’s name. It stands for their yes."), field="name")


def keep_older(store: Store, ticket: Ticket, price: AgreedPrice) -> None:
    """An agreement of before prices were kept with it gets the one that it was given to."""
    older = tickets.consents(store, ticket.id)
    if older and not older[-1].price:
        store.change("consents", older[-1].id, price=agreed_price.as_text(price))


def _write_lines(store: Store, act: Act, shop: Shop, ticket: Ticket, typed: PriceChange) -> None:
    """The lines as typed, then the discount. Raises BadInput, Conflict."""
    held = {one.id: one for one in bills.lines(store, ticket.id)}
    changed = False
    for new in typed.lines:
        line = held.get(new.line_id or 0)
        if new.line_id is not None and line is None:
            raise Conflict(say(TWO_PEOPLE))
        changed |= _write_line(store, act, ticket, line, new)
    if typed.rush is not None:
        changed |= _write_rush(store, shop, ticket, typed.rush)
    if typed.discount:
        _write_discount(store, ticket, typed)
    elif not changed:
        raise BadInput(say("No line is changed. Change one, or type a discount."), field="discount")
    if sum(one.quantity * one.amount_minor for one in bills.lines(store, ticket.id)) < 0:
        raise BadInput(
            say("That is more than the whole price. Type a smaller discount."),
            typed=typed.discount,
            field="discount",
        )


def _write_line(
    store: Store, act: Act, ticket: Ticket, line: PriceLine | None, new: LineInput
) -> bool:
    """Whether the line is another one now."""
    if line is None:
        if new.what:
            bills.add_line(store, ticket.id, bills.NewLine(new.what, "job", new.amount_minor))
        return bool(new.what)
    amount = -new.amount_minor if line.kind == "reduction" else new.amount_minor
    if not new.what:
        works.not_wanted(store, act, line.id)
        bills.remove_line(store, line)
    elif (new.what, amount) != (line.what, line.amount_minor):
        bills.change_line(store, line, new.what, amount)
    else:
        return False
    return True


def _write_rush(store: Store, shop: Shop, ticket: Ticket, wanted: bool) -> bool:
    """Adds the line of a rush job, or takes it out. Whether anything is another now."""
    held = [one for one in bills.lines(store, ticket.id) if one.what == rush.LINE]
    if wanted and not held:
        bills.add_line(store, ticket.id, bills.NewLine(rush.LINE, "job", shop.rush_minor))
    for line in [] if wanted else held:
        bills.remove_line(store, line)
    return wanted != bool(held)


def _write_discount(store: Store, ticket: Ticket, typed: PriceChange) -> None:
    """A line that takes off an amount, or a percent of what the other lines come to."""
    lines = bills.lines(store, ticket.id)
    what, off = read_discount(typed.discount, ticket, lines)
    bills.take_off(store, ticket.id, what, off, typed.discount_why)


def read_discount(typed: str, ticket: Ticket, lines: Sequence[PriceLine]) -> tuple[str, int]:
    """The words of a discount and what it takes off: "10%" of the lines, or an amount.

    Raises BadInput.
    """
    percent = _PERCENT.fullmatch(typed.strip())
    if percent:
        share = Decimal(percent[1].replace(",", "."))
        listed = sum(one.quantity * one.amount_minor for one in lines)
        off = int((listed * share / 100).quantize(Decimal(1), ROUND_HALF_UP))
        what = f"Discount, {share.normalize():f}%"
    else:
        off, what = money.read_amount(typed, ticket.currency, "discount"), "Discount"
    if off <= 0:
        raise BadInput(
            say("Type an amount above zero, or a percent like 10%."), typed=typed, field="discount"
        )
    return what, off


def yes_to(ticket: Ticket, typed: PriceChange, before: AgreedPrice, after: AgreedPrice) -> str:
    """How the customer agreed to the new price. Raises BadInput where they must be asked."""
    if after.total_minor <= before.total_minor and not typed.yes:
        return LOWER
    ceiling = money.say(before.ceiling_minor, ticket.currency)
    above = after.total_minor > before.ceiling_minor
    if typed.yes == "within" and above:
        words = say(
            "This is more than the {amount} that was agreed. Ask the customer first.",
            amount=ceiling,
        )
        raise BadInput(words, typed=typed.yes, field="yes")
    if not typed.yes:
        words = (
            say(
                "This is more than the {amount} that was agreed. Ask the customer first.",
                amount=ceiling,
            )
            if above
            else say("The price goes up. Pick how the customer agreed.")
        )
        raise BadInput(words, field="yes")
    return typed.yes


def agree_anew(
    store: Store, act: Act, ticket: Ticket, typed: PriceChange, yes: tuple[str, str, AgreedPrice]
) -> None:
    """The new copy of the agreement: the same sentences, the new price. yes: how, the file with the
    signature, the price.
    """
    how, signature_file, price = yes
    older = tickets.consents(store, ticket.id)
    name = typed.name.strip() or customers.get(store, ticket.customer_id).name
    tickets.add_consent(
        store,
        act,
        ticket.id,
        older[-1].text_version if older else consent.TEXT_VERSION,
        consent.kept(older[-1].sentences) if older else [],
        name=name,
        signature_file=signature_file,
        how=how,
        why=typed.why or typed.discount_why or say(rush.LINE if typed.rush else rush.NO_MORE),
        price=agreed_price.as_text(price),
    )
