"""Fields that several forms share: a day, a text of several lines."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from markupsafe import Markup
from wtforms import RadioField, SelectField, ValidationError
from wtforms.widgets import TextArea, TextInput

from fitcounter.desk.common.translation import say
from fitcounter.web.forms.saved_form import TextField, said


class DayInput(TextInput):
    """A date field of the browser; what is no day stays readable in a plain one, because a date
    field would hide it.
    """

    def __call__(self, field: Any, **attributes: object) -> Markup:
        return Markup(
            super().__call__(
                field, type="date" if _is_day(field.data or "") else "text", **attributes
            )
        )


class DayField(TextField):
    """A day as typed, 2026-04-25; read by desk.days.read_day."""

    widget = DayInput()

    def __init__(self, label: str, **more: Any) -> None:
        super().__init__(label, most=24, **more)


class LongText(TextField):
    """Several lines of plain text.

    A browser counts the end of a line as one character and sends two; here it is one again.
    """

    widget = TextArea()

    def process_formdata(self, valuelist: list[Any]) -> None:
        super().process_formdata(valuelist)
        self.data = self.data.replace("\r\n", "\n")


class Picked(SelectField):
    """One of some words. Whether what was sent is one of them is seen without saying any: a form
    that is only saved shows none. words: value to our English for it.
    """

    def __init__(self, label: str, words: Mapping[str, str], **more: Any) -> None:
        super().__init__(label, choices=said(words), **more)
        self.words = words

    def pre_validate(self, form: Any) -> None:
        if self.data not in self.words:
            raise ValidationError(say("Pick one from the list."))


class PickedInSight(Picked):
    """The same, with all the words in sight at once."""

    widget = RadioField.widget
    option_widget = RadioField.option_widget

    def __init__(self, label: str, words: Mapping[str, str], **more: Any) -> None:
        super().__init__(label, words, **more)
        self.label.field_id = False  # there is no one place that it names


def _is_day(text: str) -> bool:
    try:
        return not text or date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False
