"""Forms kept as typed."""

from __future__ import annotations

from fitcounter.store import drafts
from fitcounter.store.database import Act, Store


def test_a_draft_kept_again_takes_its_own_place(store: Store, act: Act):
    with store.write_tx():
        drafts.put(store, act, "a" * 22, "new-job", [("name", "Mari")], "Mari")
        drafts.put(store, act, "a" * 22, "new-job", [("name", "Marisol")], "Marisol")
    (only,) = drafts.of_kind(store, "new-job")
    assert only.typed == [("name", "Marisol")]
