"""A boot's rounds with their turns and the labels of their trees."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from fitcounter.store import rounds, trees
from fitcounter.store.bench_records import Round, TreeRow, Turn
from fitcounter.store.database import Store


class RoundSeen(NamedTuple):
    """A round with its turns and the label of its tree."""

    row: Round
    turns: list[Turn]
    tree: str

    @property
    def on_tree_um(self) -> int | None:
        return next(
            (one.girth_um for one in reversed(self.turns) if one.girth_um is not None), None
        )


def rounds_of(store: Store, item_id: int) -> list[RoundSeen]:
    """Oldest first."""
    turns: dict[int, list[Turn]] = {}
    for turn in rounds.turns_of_item(store, item_id):
        turns.setdefault(turn.round_id, []).append(turn)
    return with_trees(store, rounds.of_item(store, item_id), turns)


def with_trees(
    store: Store, made: Iterable[Round], turns: Mapping[int, Sequence[Turn]]
) -> list[RoundSeen]:
    """The same of rounds, and turns by round, that were asked for already."""
    labels: dict[int, TreeRow] = {}
    seen = []
    for one in made:
        if one.tree_id and one.tree_id not in labels:
            labels[one.tree_id] = trees.get(store, one.tree_id)
        label = labels[one.tree_id].label if one.tree_id else ""
        seen.append(RoundSeen(one, list(turns.get(one.id, ())), label))
    return seen
