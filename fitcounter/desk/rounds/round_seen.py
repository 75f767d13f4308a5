"""A boot's rounds with their turns and the labels of their trees."""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.store import rounds, trees
from fitcounter.store.bench_records import Round, TreeRow, Turn
from fitcounter.store.database import Store


@dataclass(frozen=True, slots=True)
class RoundSeen:
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
    labels: dict[int, TreeRow] = {}
    held = rounds.turns_of_item(store, item_id)
    seen = []
    for one in rounds.of_item(store, item_id):
        if one.tree_id and one.tree_id not in labels:
            labels[one.tree_id] = trees.get(store, one.tree_id)
        label = labels[one.tree_id].label if one.tree_id else ""
        seen.append(RoundSeen(one, [turn for turn in held if turn.round_id == one.id], label))
    return seen
