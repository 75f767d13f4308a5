"""Which form a step has, and the form as it is first shown: filled in from what is known."""

from __future__ import annotations

from typing import TypeVar

from fitcounter.desk.item_page import Look
from fitcounter.fit import progress
from fitcounter.fit.tape import say_length
from fitcounter.web import bench_forms as forms
from fitcounter.web.forms import SavedForm

One = TypeVar("One", bound=SavedForm)

FORMS: dict[str, type[SavedForm]] = {
    "prepare": forms.PrepareForm, "put-on": forms.PutOnForm, "turn-up": forms.TurnUpForm, "take-off": forms.TakeOffForm,
    "measure-again": forms.MeasureForm, "another-round": forms.PlainForm, "done": forms.PlainForm, "finish": forms.FinishForm,
    "shelve": forms.ShelveForm, "start-work": forms.PlainForm, "work-done": forms.WorkDoneForm, "wait": forms.WaitForm,
    "go-on": forms.PlainForm, "stop": forms.StopForm, "further": forms.FurtherForm, "undo": forms.UndoForm,
}  # fmt: skip


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
    elif isinstance(form, forms.FurtherForm):
        form.state.choices = {state: progress.WORDS[state] for state in look.further}
    elif isinstance(form, forms.UndoForm) and look.undo_step:
        form.step_id.data = str(look.undo_step.step_id)
    elif isinstance(form, forms.ShelveForm):
        form.shaper.data = look.item.shaper
    return form


def _put_on(form: forms.PutOnForm, look: Look) -> None:
    last = look.rounds[-1].row if look.rounds else None
    if last is not None:
        form.method.data = last.method
        read = next((one.row for one in reversed(look.rounds) if one.row.rested_um and one.row.rested_counts), None)
        if read is not None and read.rested_method == last.method:
            form.before.data = read.rested_text
    if look.item.mark_um:
        form.mark.data = say_length(look.item.mark_um / 1000, "in")
