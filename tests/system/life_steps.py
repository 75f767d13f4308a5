"""Every form of the program in the order of a life: taken in, on the bench, fetched, worn, back,
erased; the shop's own forms beside it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from time import process_time

import pytest
from support.disk_trouble import plans_kept
from support.whole_shop import LIGHT, open_copy
from system.life import Life
from system.life_bench import beside_the_bench, rounds, trees
from system.life_counter import counter
from system.life_customer import comeback, her_page, pickup
from system.life_shop import people, phones, shop

from fitcounter.desk.staff import passphrase_and_pin


def whole_life(life: Life) -> Iterator[str]:
    """All of it; yields what was just gone through."""
    for part in (
        counter,
        trees,
        rounds,
        beside_the_bench,
        pickup,
        her_page,
        comeback,
        people,
        phones,
        shop,
    ):
        life.owner.get("/me")
        part(life)
        yield part.__name__


@dataclass(frozen=True)
class Gone:
    """tried: how many faults each form was given.

    stood: after how many it was saved all the same. busy_s: of the processor.
    """

    tried: dict[str, int]
    stood: int
    busy_s: float


def go_through(
    played: Path, folder: Path, kind: str, for_ever: bool, thorough: bool = True
) -> Gone:
    """The whole life on a copy of the story, under one kind of fault."""
    begun = process_time()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(passphrase_and_pin, "POLICY", LIGHT)
        plans_kept(patch)
        life = Life(open_copy(played, folder), patch, ((kind, for_ever),), thorough)
        for _ in whole_life(life):
            pass
        life.shop.store.close()
    return Gone(life.tried, life.stood, process_time() - begun)
