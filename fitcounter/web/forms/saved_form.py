"""What every form has in common: a submission id made when the form is shown, and fields that speak
in sentences.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from flask import g, request
from flask_wtf import FlaskForm
from werkzeug.exceptions import BadRequest, HTTPException
from wtforms import (
    BooleanField,
    Field,
    FieldList,
    HiddenField,
    MultipleFileField,
    SelectField,
    SelectMultipleField,
    StringField,
    TimeField,
    ValidationError,
)
from wtforms.fields.core import UnboundField
from wtforms.form import BaseForm

from fitcounter.desk.common.translation import say, say_later, say_n
from fitcounter.errors import Conflict, FitCounterError, Unavailable
from fitcounter.web.forms.field_labels import bound


def submission_id() -> str:
    """A fresh id, 128 bit; the phone makes its own where it works without network."""
    return secrets.token_urlsafe(16)


# What travels with a form and is not what somebody typed, or must never be shown again.
UNTYPED = ("csrf_token", "passphrase", "again", "now", "pin", "who", "parked", "key", "secret")


def unlabelled(name: str) -> str:
    """The name of a field that no form here knows, as words."""
    return name.replace("_", " ").replace("-", " ")


def is_shown(name: str) -> bool:
    """May what came in this field be shown again? `word` is a secret at the first run alone; at the
    bench it is what was seen.
    """
    return name not in UNTYPED and not (name == "setup_token" and request.path == "/first-run")


class SentTwice(BadRequest):
    """One field came with two values.

    The framework would take the first and drop the other in silence.
    """

    description = say_later(
        "One field was sent twice, so nothing was saved. Go back, check the form and send it again."
    )


def typed() -> list[tuple[str, str]]:
    """What somebody typed in this request or must travel with it, in order; never a secret.

    Nothing where the body cannot be read.
    """
    try:
        sent = list(g.get("sent", request.form).lists())
    except HTTPException:  # the body is what is refused; the error page must not stumble over it
        return []
    return [(key, value) for key, values in sent for value in values if is_shown(key)]


def has_files() -> bool:
    """Did a file come along? False where that cannot be read."""
    try:
        return bool(request.files)
    except HTTPException:
        return False


class _SubmissionField(HiddenField):
    """The id that came; a fresh one is made where a page is shown."""

    def process(self, *given: Any, **more: Any) -> None:
        super().process(*given, **more)
        self.data: str = submission_id() if self.data is None else self.data


class SavedForm(FlaskForm):
    """A form that writes.

    The submission id makes a repeat harmless; the version shows what the person saw.
    """

    class Meta(FlaskForm.Meta):
        # CSRFProtect looks at the token of every POST before any form is read; once is enough
        csrf = False

        def bind_field(
            self, form: BaseForm, unbound_field: UnboundField[Any], options: dict[str, Any]
        ) -> Any:
            """The field with its label and sentences in the language spoken just now."""
            return bound(unbound_field, form, **options)

    submission_id = _SubmissionField()
    version = HiddenField()

    def __init__(self, *given: Any, **more: Any) -> None:
        super().__init__(*given, **more)
        if self.is_submitted() and more.get("formdata", ...) is not None:
            _once_each(self)
        g.form = self

    def take(self, error: FitCounterError) -> None:
        """Puts each sentence of an error of the desk at its field, or at the top of the form where
        it belongs to none.

        What no other typing can cure goes on: a full disk is no fault of the form's, and its page
        keeps what was typed too.
        """
        if isinstance(error, Unavailable):
            raise error
        g.conflict = isinstance(error, Conflict)
        for name, sentence in error.sentences.items():
            field = self.field_named(name)
            if field is None:
                self.form_errors: list[str] = [*self.form_errors, sentence]
            else:
                field.errors = [*field.errors, sentence]

    def field_named(self, name: str) -> Field | None:
        """The field that shows what is wrong under that name, None where the form has none."""
        return self._fields.get(name)

    def label_of(self, name: str) -> str:
        """What the page calls a field of this form."""
        return str(self[name].label.text) if name in self else unlabelled(name)

    def in_words(self, name: str, value: str) -> str:
        """What came in a field as the page says it: of a choice its words."""
        field = self._fields.get(name)
        if isinstance(field, BooleanField):
            return say("yes") if field.data else value
        choices = field.iter_choices() if isinstance(field, SelectField) else ()
        return next((str(one.label) for one in choices if str(one.value) == value), value)

    @property
    def seen_version(self) -> int | None:
        text = str(self.version.data or "")
        return int(text) if text.isascii() and text.isdigit() and len(text) < 12 else None


def _once_each(form: BaseForm) -> None:
    """Raises SentTwice where a field with one value came with two."""
    sent = request.form
    if max(map(len, sent.listvalues()), default=0) < 2:  # as of most forms
        return
    twice = {name for name, values in sent.lists() if len(values) > 1}
    for field in form:
        if isinstance(field, FieldList):
            for entry in field:
                _once_each(entry.form)
        elif not isinstance(field, SelectMultipleField | MultipleFileField) and field.name in twice:
            raise SentTwice


class TextField(StringField):
    """One line of plain text, at most `most` characters, without control or direction marks."""

    def __init__(self, label: str, *, most: int = 80, needed: str = "", **more: Any) -> None:
        super().__init__(label, **more)
        self.most = most
        self.needed = needed

    def process_formdata(self, valuelist: list[Any]) -> None:
        super().process_formdata(valuelist)
        self.data: str = clean(self.data or "")

    def pre_validate(self, form: Any) -> None:
        if self.needed and not self.data:
            raise ValidationError(str(self.needed))
        if len(self.data or "") > self.most:
            raise ValidationError(
                say_n(
                    "Type {count} character at most.", "Type {count} characters at most.", self.most
                )
            )
        if any(ord(one) < 32 and one not in "\n\t" for one in self.data or ""):
            raise ValidationError(say("Type plain letters and numbers."))


class HourField(TimeField):
    """A time of day; empty is none."""

    def __init__(self, label: str, **more: Any) -> None:
        super().__init__(label, invalid_value_message=say_later("Type a time, like 18:30."), **more)

    def process_formdata(self, valuelist: list[Any]) -> None:
        if any(str(one).strip() for one in valuelist):
            super().process_formdata(valuelist)


# Direction marks and their like, the mark at the beginning of a file, lone surrogates.
_DROPPED = dict.fromkeys(
    [
        *range(0x200B, 0x2010),
        *range(0x202A, 0x202F),
        *range(0x2060, 0x206A),
        0xFEFF,
        *range(0xD800, 0xE000),
    ]
)


def clean(text: str) -> str:
    """Trims, drops direction marks and lone surrogates, so that what is stored can be shown and
    written anywhere.
    """
    return (text if text.isascii() else text.translate(_DROPPED)).strip()


def both_texts(error: Conflict, form: SavedForm, stored: Mapping[str, object]) -> Conflict:
    """The same error with what stands now, field by field, where it is not what was typed.

    stored: field name to its value.
    """
    other = {
        name: value for name, value in stored.items() if (form[name].data or "") != (value or "")
    }
    theirs = {form.label_of(name): _said(value) for name, value in other.items()}
    same = {say("Everything"): say("same as yours")}
    return Conflict(error.sentence, field=error.field, theirs=theirs or same)


def _said(value: object) -> str:
    if isinstance(value, bool):
        return say("yes") if value else say("no")
    return str(value or say("nothing"))


def said(choices: Mapping[str, str]) -> Callable[[], list[tuple[str, str]]]:
    """The choices of a field, each time in the language of whoever is served. choices: value to
    our English for it.
    """
    return lambda: [(value, say(words) if words else words) for value, words in choices.items()]


def sentences(fields: Iterable[Field]) -> list[str]:
    """Every error of a form in the order of its fields."""
    return [str(error) for field in fields for error in field.errors]
