"""The form of one job on a boot; its button says what becomes of it."""

from __future__ import annotations

from wtforms import BooleanField, HiddenField

from fitcounter.desk.bench.other_work import LONGEST_NOTE
from fitcounter.desk.common.translation import say_later
from fitcounter.web.forms.saved_form import SavedForm, TextField


class WorkLineForm(SavedForm):
    """line_id: of the job that this form was sent for; 0 before."""

    to = HiddenField()
    seen = HiddenField()
    note = TextField(say_later("Note"), most=LONGEST_NOTE)
    anyway = BooleanField(say_later("It is done now all the same"))
    line_id = 0
