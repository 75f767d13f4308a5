"""Shop: the list of work with its prices, each entry on a page of its own."""

from __future__ import annotations

from flask import flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField, SelectField

from fitcounter.desk.common import money
from fitcounter.desk.common.translation import say, say_later
from fitcounter.desk.quote import price_list as desk
from fitcounter.desk.quote.price_list import EntryInput, PriceEntry
from fitcounter.desk.shop import Shop
from fitcounter.errors import BadInput, Conflict, FitCounterError
from fitcounter.fit.work_timing import TIMINGS
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.forms.saved_form import SavedForm, TextField, both_texts, said
from fitcounter.web.guards.access import act, allow, store, the_shop

NEW = "new"  # in the address of an entry that is not there yet


class PriceEntryForm(SavedForm):
    what = TextField(say_later("Name of the work"), most=desk.LONGEST_NAME)
    price = TextField(say_later("Price for each boot or item"), most=14)
    size_price = TextField(say_later("More for each inch or centimeter of size"), most=14)
    days = TextField(say_later("Usual days"), most=4)
    timing = SelectField(say_later("When it is done"), choices=said(TIMINGS), validate_choice=False)
    taxable = BooleanField(say_later("It is taxed"))
    answer = TextField(say_later("We do not do it: what we say"), most=desk.LONGEST_ANSWER)
    offered = BooleanField(say_later("It is on the list"))


@bp.get("/shop/prices")
@allow("owner")
def price_list() -> str:
    """All work by name, with price and days."""
    timings = {name: desk.timing_words(name) for name in TIMINGS}
    return render_template(
        "shop/price_list.html", entries=desk.entries(store()), new=NEW, timings=timings
    )


@bp.route("/shop/prices/<key>", methods=["GET", "POST"])
@allow("owner")
def price_entry(key: str) -> Response | tuple[str, int]:
    """One entry as it stands, or a new one."""
    entry = None if key == NEW else desk.get(store(), key)
    form = PriceEntryForm()
    if form.validate_on_submit():
        try:
            flash(_saved(form, "" if key == NEW else key))
            return redirect(url_for(".price_list"), 303)
        except Conflict as error:
            raise both_texts(error, form, _held(desk.get(store(), key), the_shop())) from error
        except FitCounterError as error:
            form.take(error)
    if not form.is_submitted():
        held = _held(entry, the_shop())
        version = str(entry.row.version) if entry and entry.row else ""
        form = PriceEntryForm(formdata=None, data={**held, "version": version})
    page = render_template("shop/price_entry.html", form=form, entry=entry)
    return page, 422 if form.errors else 200


def _held(entry: PriceEntry | None, shop: Shop) -> dict[str, object]:
    """What stands now, by the form's fields."""
    if entry is None:
        return {"days": "1", "timing": "any", "taxable": True, "offered": True}
    price = "" if entry.price_minor is None else money.plain(entry.price_minor, shop.currency)
    size = money.plain(entry.size_minor, shop.currency) if entry.size_minor else ""
    return {
        "what": entry.name,
        "price": price,
        "size_price": size,
        "days": str(entry.days),
        "timing": entry.timing,
        "taxable": bool(entry.taxable),
        "answer": entry.said_answer,
        "offered": entry.row is None or bool(entry.row.offered),
    }


def _saved(form: PriceEntryForm, key: str) -> str:
    """What is true after it was saved. Raises BadInput, and what the desk raises."""
    currency, days = the_shop().currency, form.days.data or "0"
    if not (days.isascii() and days.isdigit()):
        raise BadInput(say("Type a whole number of days."), typed=days, field="days")
    price = form.price.data
    typed = EntryInput(
        what=form.what.data,
        price_minor=money.read_amount(price, currency, "price") if price else None,
        size_minor=money.read_amount(form.size_price.data, currency, "size_price"),
        days=int(days),
        timing=form.timing.data or "",
        taxable=bool(form.taxable.data),
        answer=form.answer.data,
        offered=bool(form.offered.data),
        version=form.seen_version,
    )
    return desk.save(store(), act(), key, typed).words
