"""From the fields of New job to the job that the desk opens.

A field that cannot be read says what to type.
"""

from __future__ import annotations

from datetime import date, datetime

from fitcounter.desk.common.contact import read_phone
from fitcounter.desk.common.fields import read_day
from fitcounter.desk.common.mail import read_email
from fitcounter.desk.common.problems import Problems
from fitcounter.desk.common.translation import say
from fitcounter.desk.common.usual_work import USUAL
from fitcounter.desk.intake import new_job
from fitcounter.desk.intake.job_records import Boots, NewJob, Seen, Thing, Who
from fitcounter.desk.intake.new_job import Customer
from fitcounter.desk.shop import Shop, Store
from fitcounter.errors import BadInput, BadReading, FitCounterError
from fitcounter.fit.tape import parse_length
from fitcounter.web.counter.new_job_form import NewJobForm

SIDES = {"pair": ("left", "right"), "left": ("left",), "right": ("right",), "none": ()}
MOST_MM = {
    "thickness": 8,
    "lining_thick": 8,
    "zip_band": 80,
    "backstay": 150,
    "elastic": 200,
    "throat": 700,
}
# The typed lengths of a boot, and where they are kept.
LENGTHS = {
    "thickness": "thickness_um",
    "lining_thick": "lining_um",
    "zip_band": "zip_band_um",
    "backstay": "backstay_um",
    "elastic": "elastic_um",
    "throat": "throat_um",
}


def known_customers(form: NewJobForm, store: Store, shop: Shop) -> list[Customer]:
    """Customers with the typed number; none while it cannot be read."""
    try:
        return new_job.known(store, read_phone(form.phone.data or "", shop.country))
    except FitCounterError:
        return []


def read_job(form: NewJobForm, store: Store, shop: Shop, now: datetime) -> NewJob:
    """The job as typed.

    Raises BadFields with a sentence for every field that cannot be taken.
    """
    today, problems = shop.today(now), Problems()
    with problems.reading():
        who = Who("") if form.adds_to is not None else _who(form, store, shop)
    with problems.reading():
        boots = _boots(form, shop)
    with problems.reading():
        things = _things(form, today)
    with problems.reading():
        needed_by = read_day(form.needed_by.data or "", today, "needed_by")
    with problems.reading():
        arrives = read_day(form.arrives.data or "", today, "arrives")
    problems.raise_any()
    return NewJob(
        who=who,
        boots=boots,
        things=things,
        needed_by=needed_by,
        worn_with=form.worn_with.data,
        note=form.note.data or "",
        arrives=arrives,
        rush=bool(form.rush.data),
        slot_id=form.slot_id,
    )


def _who(form: NewJobForm, store: Store, shop: Shop) -> Who:
    problems = Problems()
    with problems.reading():
        phone = read_phone(form.phone.data or "", shop.country)
    with problems.reading():
        email = read_email(form.email.data or "")
    problems.raise_any()
    found = new_job.known(store, phone)
    chosen = next((one for one in found if str(one.id) == form.customer.data), None)
    if chosen is not None:
        return Who(chosen.name, phone, chosen.id, email)
    if not form.name.data:
        raise BadInput(say("Type a name, or pick a returning customer."), field="name")
    same = next((one for one in found if one.name.casefold() == form.name.data.casefold()), None)
    if same is not None:
        return Who(same.name, phone, same.id, email)
    if found and form.customer.data != "new":
        raise BadInput(
            say("We know this number. Pick the customer, or “New customer”."), field="customer"
        )
    return Who(form.name.data, phone, email=email)


def _boots(form: NewJobForm, shop: Shop) -> Boots | None:
    sides = SIDES[form.boots.data]
    if not sides:
        return None
    problems = Problems()
    with problems.reading():
        seen = _seen(form, sides)
    um: dict[str, int | None] = {}
    for name, column in LENGTHS.items():
        with problems.reading():
            um[column] = _um(form, name, shop)
    problems.raise_any()
    return Boots(
        sides,
        form.material.data,
        form.closure.data,
        form.lining.data,
        form.description.data or "",
        form.target.data,
        seen,
        signed_off=bool(form.signed_off.data),
        **um,
    )


def _seen(form: NewJobForm, sides: tuple[str, ...]) -> tuple[Seen, ...]:
    seen = [
        Seen(side, word, form[f"place_{side}"].data or "")
        for side in sides
        for word in form[f"seen_{side}"].data or ()
    ]
    if not seen and not form.nothing_seen.data and not form.arrives.data:
        raise BadInput(
            say("Tick the damage you saw, or “No damage seen”. The customer signs for this."),
            field="nothing_seen",
        )
    if seen and form.nothing_seen.data:
        raise BadInput(
            say("Damage is ticked below, so untick “No damage seen”."), field="nothing_seen"
        )
    return tuple(seen)


def _um(form: NewJobForm, name: str, shop: Shop) -> int | None:
    """A typed length in micrometres; bare figures are in the shop's unit.

    Empty is the guess of the class.
    """
    typed = form[name].data or ""
    if not typed:
        return None
    read = parse_length(typed, shop.unit, name, zero_ok=True)
    if read.mm > MOST_MM[name]:
        raise BadReading(
            say("That is over {most} mm. Type the unit too, like 1.4 mm.", most=MOST_MM[name]),
            typed=typed,
            field=name,
        )
    return read.um


def _things(form: NewJobForm, today: date) -> tuple[Thing, ...]:
    """The other things, without the lines where nothing is written. What was ticked is done on the
    first of them, else on shoes.
    """
    things, problems = [], Problems()
    ticked = ", ".join(say(USUAL[code].what) for code in form.often.data or ())
    for entry in form.things:
        kind, description, jobs = (
            str(entry.form[name].data or "") for name in ("kind", "description", "jobs")
        )
        if ticked:
            kind, description = kind or "shoe", description or say("shoes")
            jobs, ticked = ", ".join(filter(None, (ticked, jobs))), ""
        if not (kind or description or jobs):
            continue
        if not description:
            problems.add(f"{entry.name}-description", say("Type what it is, like black bag."))
        if not jobs:
            problems.add(f"{entry.name}-jobs", say("Type the work to do, like new handle."))
        with problems.reading():
            day = read_day(entry.form.day.data or "", today, f"{entry.name}-day")
            things.append(Thing(kind or "other", description, jobs, day, f"{entry.name}-jobs"))
    problems.raise_any()
    return tuple(things)
