"""Links to look at, one at a time."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitcounter.desk.customer import sharing
from fitcounter.errors import NotFound, OutOfOrder
from fitcounter.store.database import Act, Store


def test_a_second_link_ends_the_first_and_the_end_ends_both(
    store: Store, act: Act, home, tmp_path: Path
) -> None:
    tokens = []
    for _ in range(2):
        sharing.share(store, act, home.ticket_id, tmp_path)
        tokens.append(sharing.token_of(store, home.ticket_id, tmp_path))
    assert sharing.ticket_of_share(store, tokens[1], act.at).id == home.ticket_id
    sharing.end(store, act, home.ticket_id)
    for token in tokens:
        with pytest.raises(NotFound):
            sharing.ticket_of_share(store, token, act.at)
    assert sharing.token_of(store, home.ticket_id, tmp_path) == ""
    with pytest.raises(OutOfOrder, match="Nobody else can look"):
        sharing.end(store, act, home.ticket_id)
