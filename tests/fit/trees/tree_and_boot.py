"""A boot that is to be opened at 400 mm, a tree for it, and what the ranking says of trees."""

from __future__ import annotations

from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.trees.calibration import CalibrationPoint, Scale
from fitcounter.fit.trees.choice import Choice, Rejected, rank_trees
from fitcounter.fit.trees.limits import Wanted
from fitcounter.fit.trees.serving import Tree

TURNS = Scale("turns", 0, 20)
BOOT = Profile.through([(100, 260), (250, 330), (400, 360)])
WANTED = Wanted(
    side="left",
    at_mm=400,
    girth_mm=370,
    boot=BOOT,
    first=BOOT,
    leather0_mm=lambda height: BOOT.at(height) - 30,
    round_share=0.06,
    ceiling_share=0.12,
    kept=0.5,
    need=Profile.straight([(100, 0), (250, 0), (400, 12)]),
    unit="mm",
)


def points(*girths: tuple[float, float, float], pads: str = "") -> tuple[CalibrationPoint, ...]:
    """(height, closed, open) each, by the tape."""
    closed = [CalibrationPoint(0, height, girth, pads, "tape") for height, girth, _ in girths]
    return (
        *closed,
        *(CalibrationPoint(1, height, girth, pads, "tape") for height, _, girth in girths),
    )


EVEN = Tree(
    "even",
    "left",
    "M",
    scale=TURNS,
    points=points((100, 240, 280), (250, 300, 340), (400, 345, 395)),
)


def ranked(*trees: Tree, wanted: Wanted = WANTED) -> tuple[Choice, ...]:
    choices, rejected = rank_trees(trees, wanted)
    assert rejected == ()
    return choices


def sentence(tree: Tree, wanted: Wanted = WANTED) -> str:
    choices, rejected = rank_trees([tree], wanted)
    assert choices == ()
    assert rejected == (Rejected(tree.label, rejected[0].sentence),)
    return rejected[0].sentence
