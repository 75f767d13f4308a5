"""Which form a step has, and the form as it is first shown: filled in from what is known."""

from __future__ import annotations

from typing import TypeVar

from flask import g

from fitcounter.desk.bench.another_boot_on_the_tree import TreeTaken, tree_taken
from fitcounter.desk.bench.item_page import Look
from fitcounter.desk.common import item_words
from fitcounter.desk.common.translation import say
from fitcounter.desk.trees.tree_shift import shift_choices
from fitcounter.errors import FitCounterError
from fitcounter.web.bench import step_forms as forms
from fitcounter.web.forms.saved_form import SavedForm
from fitcounter.web.guards.access import store, the_shop

One = TypeVar("One", bound=SavedForm)

FORMS: dict[str, type[SavedForm]] = {
    "arrive": forms.PlainForm,
    "prepare": forms.PrepareForm,
    "put-on": forms.PutOnForm,
    "turn-up": forms.TurnUpForm,
    "take-off": forms.TakeOffForm,
    "measure-again": forms.RestedReadingForm,
    "another-round": forms.PlainForm,
    "done": forms.PlainForm,
    "finish": forms.FinishForm,
    "shelve": forms.ShelveForm,
    "start-work": forms.PlainForm,
    "work-done": forms.WorkDoneForm,
    "wait": forms.WaitForm,
    "go-on": forms.PlainForm,
    "stop": forms.StopForm,
    "further": forms.FurtherForm,
    "finding": forms.FindingForm,
    "leave-on": forms.LeaveOnForm,
    "pickup-day": forms.PickupDayForm,
    "undo": forms.UndoForm,
}


def named(form: One, step: str) -> One:
    """The same form with ids of its own, so that several stand on one page."""
    for field in form:
        field.id = f"{step}-{field.name}"
        field.label.field_id = field.id
    return form


def fresh(step: str, look: Look) -> SavedForm:
    """An empty form for a step of this item, filled in from what is known."""
    form = named(FORMS[step](formdata=None), step)
    form.version.data = str(look.item.version)
    if isinstance(form, forms.PutOnForm):
        _put_on(form, look)
    elif isinstance(form, forms.UndoForm) and look.undo_step:
        form.step_id.data = str(look.undo_step.step_id)
    elif isinstance(form, forms.PickupDayForm):
        form.day.data, form.version.data = (
            look.ticket.pickup_day or "",
            str(look.ticket.version),
        )  # the day is the ticket's
    elif isinstance(form, forms.ShelveForm):
        form.shaper.data = look.item.shaper
    return listed(form, look)


def filled(step: str, look: Look, tree: str) -> SavedForm:
    """The same with the tree that was scanned."""
    form = fresh(step, look)
    if tree and isinstance(form, forms.PutOnForm):
        form.tree.data = tree
    return form


def listed(form: One, look: Look) -> One:
    """The same form with the choices that depend on the item, whether it is new or was sent."""
    if isinstance(form, forms.FurtherForm):
        form.state.choices = {
            state: item_words.state_word(state).capitalize() for state in look.further
        }
    if isinstance(form, forms.PutOnForm):
        form.shift.choices = shift_choices(the_shop().unit)
        planned = look.hints.planned if look.hints else form.planned.data
        form.on_tree.label.text = say("or another girth") if planned else say("The tape reads")
        form.read_as.choices = (
            {"planned": say("{girth} as planned", girth=planned), "later": say("not read yet")}
            if planned
            else {"later": say("not read yet")}
        )
    return form


def _put_on(form: forms.PutOnForm, look: Look) -> None:
    if look.rounds:
        form.method.data = look.rounds[-1].row.method
    if look.hints:
        form.tree.data, form.before.data = look.hints.tree, look.hints.before
        form.planned.data, form.mark.data = look.hints.planned, look.hints.mark
        form.shift.data = str(look.hints.shift_um)


def take_instead(form: forms.PutOnForm) -> None:
    """Another tree that was picked stands in the place of the typed one; how that was to be set
    does not go with it.
    """
    if form.instead.data:
        form.tree.data, form.setting.data, form.shift.data = form.instead.data, "", "0"


def taken_tree(item_id: int, form: SavedForm, error: FitCounterError) -> TreeTaken | None:
    """What may be done where the tree that was typed will not do; None where the error is another
    one, or no tree has that label.
    """
    if not isinstance(form, forms.PutOnForm) or error.field != "tree":
        return None
    return tree_taken(store(), the_shop(), item_id, form.tree.data or "", g.now)
