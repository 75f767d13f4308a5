"""The last price line of an agreement: of the list of work by its first letters, or any words."""

from __future__ import annotations

from typing import Any

from wtforms import SelectField

from fitcounter.desk.common import money
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.common.translation import say
from fitcounter.desk.quote import picked_line
from fitcounter.desk.quote.offer import Offer
from fitcounter.desk.quote.offer_line import OfferLine
from fitcounter.desk.quote.picked_line import FreeLine
from fitcounter.desk.shop import Shop, Store
from fitcounter.web.forms.saved_form import SavedForm, TextField


def fields(offer: Offer) -> dict[str, Any]:
    """line_n_what, line_n_amount and, where there is a choice, line_n_on: n follows the last line
    that is offered.
    """
    number = len(offer.lines)
    held: dict[str, Any] = {
        f"line_{number}_what": TextField(
            say("Line {number}", number=number + 1), most=80, render_kw={"list": "work-list"}
        ),
        f"line_{number}_amount": TextField(say("Amount {number}", number=number + 1), most=14),
    }
    if len(offer.waiting) > 1:
        words = say("On which: line {number}", number=number + 1)
        on = [(key, name) for key, name, _ in picked_line.places(offer.waiting)]
        held[f"line_{number}_on"] = SelectField(words, choices=lambda: on, validate_choice=False)
    return held


def read(
    store: Store, shop: Shop, form: SavedForm, offer: Offer, problems: Problems
) -> list[OfferLine]:
    """The line, where something was typed."""
    number = len(offer.lines)
    what = form[f"line_{number}_what"].data or ""
    typed = form[f"line_{number}_amount"].data or ""
    on = form[f"line_{number}_on"].data or "" if f"line_{number}_on" in form else ""
    if typed and not what:
        problems.add(f"line_{number}_what", say("Type what this amount is for."))
    with problems.reading():
        amount = money.read_amount(typed, shop.currency, f"line_{number}_amount")
        if what:
            asked = bool(form["asked"].data)
            line = FreeLine(number, what, on, amount if typed else None, asked)
            return [picked_line.line_of(store, shop, line, offer.waiting)]
    return []
