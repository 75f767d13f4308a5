"""Forms that came after signing out: kept for who typed them, and for nobody else."""

from __future__ import annotations

from datetime import timedelta

import pytest
from support.cast import Clock

from fitcounter.desk.common.drafts import KEEP_DAYS, MOST_TYPED
from fitcounter.desk.staff import signed_out_forms
from fitcounter.errors import NotAllowed, NotFound
from fitcounter.store.database import Act, Store

TYPED = [("rested", "14 1/2"), ("note", "")]


def test_a_form_is_there_for_who_typed_it_as_they_typed_it(store: Store, act: Act) -> None:
    form_id = signed_out_forms.keep(store, act, "/items/1/measure", TYPED)
    form = signed_out_forms.get(store, form_id, 1, act.at)
    assert (form.path, form.typed, form.initials) == ("/items/1/measure", tuple(TYPED), "CO")
    with pytest.raises(NotFound):
        signed_out_forms.get(store, form_id, 2, act.at)
    signed_out_forms.check_sender(store, form_id, 1)
    with pytest.raises(NotAllowed, match="CO typed this"):
        signed_out_forms.check_sender(store, form_id, 2)


def test_nothing_is_kept_for_nobody_for_somebody_who_left_or_too_long(
    store: Store, act: Act
) -> None:
    with store.write_tx():
        store.change("staff", 2, active=0)
    for who, path, typed in (
        (None, "/new", TYPED),
        (2, "/new", TYPED),
        (1, "/new", [("note", "x" * MOST_TYPED)]),
        (1, "/" + "x" * 500, TYPED),
    ):
        assert signed_out_forms.keep(store, Act(act.at, who), path, typed) == ""
    assert signed_out_forms.everything(store, act.at) == []


def test_a_person_keeps_so_many_and_the_oldest_go_first(
    store: Store, act: Act, clock: Clock
) -> None:
    ids = [
        signed_out_forms.keep(store, Act(clock.on(minutes=1), 1), f"/{n}", TYPED)
        for n in range(signed_out_forms.MOST_A_PERSON + 1)
    ]
    kept = [form.id for form in signed_out_forms.everything(store, clock.now, 1)]
    assert kept == ids[:0:-1]


def test_a_form_is_kept_as_long_as_drafts_are_and_gone_once_it_is_saved(
    store: Store, act: Act
) -> None:
    old, saved = (signed_out_forms.keep(store, act, path, TYPED) for path in ("/old", "/saved"))
    signed_out_forms.drop(store, saved)
    last = act.at + timedelta(days=KEEP_DAYS, seconds=-1)
    assert [form.id for form in signed_out_forms.everything(store, last)] == [old]
    assert signed_out_forms.everything(store, last + timedelta(seconds=1)) == []
    signed_out_forms.check_sender(store, saved, 2)  # what is not kept any more is free
