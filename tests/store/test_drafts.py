"""Forms kept as typed."""

from __future__ import annotations

from datetime import timedelta

from fitcounter.store import drafts
from fitcounter.store.database import Act, Store, utc_text


def test_a_draft_kept_again_takes_its_own_place(store: Store, act: Act):
    with store.write_tx():
        drafts.put(store, act, "a" * 22, "new-job", [("name", "Mari")], "Mari")
        drafts.put(store, act, "a" * 22, "new-job", [("name", "Marisol")], "Marisol")
    (only,) = drafts.of_kind(store, "new-job")
    assert only.typed == [("name", "Marisol")]


def test_a_person_keeps_the_newest_of_a_kind_and_others_keep_theirs(store: Store, act: Act):
    with store.write_tx():
        for n, staff_id in enumerate((1, 1, 1, 2)):
            later = Act(act.at + timedelta(minutes=n), staff_id)
            drafts.put(store, later, f"d{n}", "held", [], "")
        drafts.drop_but(store, "held", 1, newest=2)
    assert [draft.id for draft in drafts.of_kind(store, "held")] == ["d3", "d2", "d1"]
    with store.write_tx():
        drafts.drop_of(store, "held", 1)
    assert [draft.id for draft in drafts.of_kind(store, "held")] == ["d3"]
    assert (drafts.how_many_but(store, "held"), drafts.how_many_but(store, "new-job")) == (0, 1)


def test_a_draft_goes_once_it_was_not_touched_since_the_day(store: Store, act: Act):
    with store.write_tx():
        drafts.put(store, act, "old", "new-job", [], "")
        drafts.drop_before(store, utc_text(act.at))
    assert drafts.get(store, "old") is not None
    with store.write_tx():
        drafts.drop_before(store, utc_text(act.at + timedelta(seconds=1)))
    assert drafts.get(store, "old") is None
