"""The stored bench: what a round may open, which tree serves it, what the plan reserves and who it
makes late.
"""

from __future__ import annotations

import pytest
from support.bench_cast import Pair, tree
from support.cast import Clock

from fitcounter.desk.assessment.standing import standing
from fitcounter.desk.bench import (
    arrive_done_shelve,
    put_on_turn_up_take_off,
    undo_step,
)
from fitcounter.desk.bench import findings as bench_findings
from fitcounter.desk.bench.put_on_turn_up_take_off import PutOn
from fitcounter.desk.common.state_changes import StepInput
from fitcounter.desk.rounds.rested_reading import RestedReading, measure_again
from fitcounter.desk.shop import Shop
from fitcounter.desk.trees import tree_choice
from fitcounter.desk.trees import trees as bench_trees
from fitcounter.desk.trees.tree_choice_page import choice_page
from fitcounter.desk.trees.trees import BareTreeReading, TreeTyped
from fitcounter.errors import BadInput, BadReading
from fitcounter.fit.assessment.stop_rules import DAMAGE
from fitcounter.store import findings, items, rounds, trees
from fitcounter.store.database import Act, Store


def a_round(
    store: Store, choices: Shop, clock: Clock, item_id: int, on: PutOn, rested: str
) -> None:
    """One whole round of a week, read a day after."""
    put_on_turn_up_take_off.put_on(
        store, Act(clock.now), choices, item_id, StepInput(clock.now), on
    )
    clock.on(days=7)
    put_on_turn_up_take_off.take_off(store, Act(clock.now), item_id, StepInput(clock.now))
    clock.on(hours=25)
    measure_again(
        store, Act(clock.now), choices, item_id, StepInput(clock.now), RestedReading(rested)
    )


def test_past_what_one_round_may_open_asks_with_the_number(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """An inch on full-grain leather that may take 15/16 in one round: nothing is saved until a
    reason is picked, which is kept.
    """
    typed = PutOn("4", before="14 3/8", on_tree="15 3/8")
    with pytest.raises(BadInput, match="one round may open 15/16 in") as asked:
        put_on_turn_up_take_off.put_on(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), typed
        )
    assert asked.value.field == "override_why"
    assert rounds.of_item(store, boots.left) == []

    said = PutOn("4", before="14 3/8", on_tree="15 3/8", override_why="master-looked")
    put_on_turn_up_take_off.put_on(
        store, Act(clock.now), choices, boots.left, StepInput(clock.now), said
    )
    assert rounds.of_item(store, boots.left)[0].override_why == "master-looked"


def test_the_largest_opening_within_the_limit_is_not_asked_about(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """15/16 in is within the limit; a sixteenth more on turning up is not."""
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15 5/16"),
    )
    with pytest.raises(BadInput, match="one round may open 15/16 in"):
        put_on_turn_up_take_off.turn_up(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), "15 3/8", ""
        )


def test_a_reason_is_one_of_the_list(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Anything else is no reason."""
    typed = PutOn("4", before="14 3/8", on_tree="15 3/8", override_why="because")
    with pytest.raises(BadInput, match="Pick a reason to go past the limit"):
        put_on_turn_up_take_off.put_on(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), typed
        )


def test_the_ceiling_counts_from_the_boot_as_it_came(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """After a round that kept nearly all, the next opening is held by the ceiling and the sentence
    says so.
    """
    big = PutOn("4", before="14 3/8", on_tree="15 3/16")
    a_round(store, choices, clock, boots.left, big, "15 1/16")
    arrive_done_shelve.another_round(store, Act(clock.now), boots.left, StepInput(clock.now))
    a_round(
        store,
        choices,
        clock,
        boots.left,
        PutOn("4", before="15 1/16", on_tree="15 13/16"),
        "15 11/16",
    )
    arrive_done_shelve.another_round(store, Act(clock.now), boots.left, StepInput(clock.now))

    with pytest.raises(BadInput, match="this leather may give"):
        put_on_turn_up_take_off.put_on(
            store,
            Act(clock.now),
            choices,
            boots.left,
            StepInput(clock.now),
            PutOn("4", before="15 11/16", on_tree="16 3/8"),
        )


def test_two_methods_in_one_round_give_no_kept_fraction(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Read outside before and inside rested: the reading is kept, the boot's own rounds teach
    nothing from it.
    """
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    clock.on(days=7)
    put_on_turn_up_take_off.take_off(store, Act(clock.now), boots.left, StepInput(clock.now))
    clock.on(hours=25)
    measure_again(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        RestedReading("14 1/8", "inside"),
    )

    found = standing(store, items.get(store, boots.left))
    assert rounds.of_item(store, boots.left)[0].rested_method == "inside"
    assert found is not None
    assert all(turn.kept is None for turn in found.case.rounds)


def test_a_flat_reading_counts_twice(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Half an inch wider laid flat is an inch of girth: past the limit."""
    typed = PutOn("4", before="7 1/8", on_tree="7 5/8", method="flat")
    with pytest.raises(BadInput, match="This opens the boot 1 in"):
        put_on_turn_up_take_off.put_on(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), typed
        )


def test_every_damage_that_stops_has_words_for_the_bench() -> None:
    """The bench can pick each finding that the stop rules know."""
    assert DAMAGE.keys() <= bench_findings.WORDS.keys()


def test_damage_stops_the_boot_and_opens_a_record(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Grain whitening on the tree: found, stopped, off its tree, told; and the whole of it is one
    step to take back.
    """
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    clock.on(hours=3)
    bench_findings.see(
        store, Act(clock.now), boots.left, StepInput(clock.now), "grain-whitening", "inner calf"
    )

    assert items.get(store, boots.left).state == "stopped"
    assert [one.word for one in findings.of_item(store, boots.left)] == ["grain-whitening"]
    assert findings.incidents_of_item(store, boots.left)[0].what == "grain turning white"

    undo_step.undo(store, Act(clock.now), Shop(), boots.left, items.steps(store, boots.left)[-1].id)
    assert items.get(store, boots.left).state == "on-tree"
    assert findings.of_item(store, boots.left) == []
    assert findings.incidents_of_item(store, boots.left) == []


def test_a_scuff_is_kept_and_stops_nothing(store: Store, boots: Pair, clock: Clock) -> None:
    """What is no damage is written down and the boot stays where it is."""
    bench_findings.see(
        store,
        Act(clock.now),
        boots.left,
        StepInput(clock.now),
        "scuffs",
        "toe",
        "was not there before",
    )

    assert items.get(store, boots.left).state == "queued"
    assert (
        findings.of_item(store, boots.left)[0].place,
        findings.incidents_of_item(store, boots.left),
    ) == (
        "toe",
        [],
    )


def test_a_tree_is_usable_from_label_and_side(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Five minutes after it was unpacked it may serve, ranked last as not measured; for the other
    side it may not.
    """
    bench_trees.add_tree(store, Act(clock.now), choices, TreeTyped("K9", "left", "M"))

    found = tree_choice.ranked(store, items.get(store, boots.left), "in")
    assert {one.label: one.note for one in found.choices}["K9"] == "not measured yet"
    assert {one.label: one.sentence for one in found.rejected}["5"] == "Made for right boots."


def test_every_reading_on_a_boot_measures_the_tree(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Two settings of one round give two inside girths of the tree; taking the step back strikes
    its reading.
    """
    tree_id = trees.by_label(store, "4").id  # type: ignore[union-attr]  # it is there
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", "6", "14 7/8", "14 3/8"),
    )
    clock.on(hours=4)
    put_on_turn_up_take_off.turn_up(
        store, Act(clock.now), choices, boots.left, StepInput(clock.now), "15 1/8", "8"
    )

    points = trees.calibration(store, tree_id)
    assert [(one.setting_milli, one.source) for one in points] == [
        (6000, "on-boot"),
        (8000, "on-boot"),
    ]
    assert points[1].girth_um - points[0].girth_um == pytest.approx(6350, abs=1)
    assert points[0].girth_um == pytest.approx(
        377825 - 2 * 3.14159265 * 2200, abs=1
    )  # 14 7/8 in less 2π times the wall

    undo_step.undo(store, Act(clock.now), Shop(), boots.left, items.steps(store, boots.left)[-1].id)
    assert len(trees.calibration(store, tree_id)) == 1


def test_a_measured_tree_is_ranked_by_what_it_does_along_the_shaft(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """One tree opens where it is wanted; one that opens the ankle too is rejected with the height
    and the number.
    """
    for label, at_ankle in (("good", 12.0), ("ankle", 14.5)):
        bench_trees.add_tree(
            store, Act(clock.now), choices, TreeTyped(label, "left", open_setting="12")
        )
        tree_id = trees.by_label(store, label).id  # type: ignore[union-attr]  # just added
        for height, closed, wide in (
            ("6 1/2", 11.0, at_ankle),
            ("10 1/2", 13.0, 15.5),
            ("14 1/2", 12.5, 14.0),
        ):
            for setting, girth in (("0", closed), ("12", wide)):
                bench_trees.measure_tree(
                    store,
                    Act(clock.now),
                    choices,
                    tree_id,
                    BareTreeReading(setting, height, f"{girth}"),
                )

    found = tree_choice.ranked(store, items.get(store, boots.left), "in")
    assert found.choices[0].label == "good"
    assert found.choices[0].setting is not None
    assert "At 6½ in" in {one.label: one.sentence for one in found.rejected}["ankle"]


@pytest.mark.parametrize(
    ("leather", "wide", "said"),
    [
        ("full-grain", 17.0, "this tree alone needs 1 round."),
        ("firm-full-grain", 14.5, "this tree alone is not enough."),
    ],
)
def test_which_tree_says_how_far_that_tree_alone_would_get(
    store: Store, choices: Shop, boots: Pair, clock: Clock, leather: str, wide: float, said: str
) -> None:
    """Opened all the way every time: a wide tree in one round; one that reaches what firm leather
    may take in this round, and no further, never.
    """
    with store.write_tx():
        store.change("items", boots.left, material=leather)
    bench_trees.add_tree(
        store, Act(clock.now), choices, TreeTyped("only", "left", open_setting="12")
    )
    tree_id = trees.by_label(store, "only").id  # type: ignore[union-attr]  # just added
    for height, closed, open_in in (
        ("6 1/2", 11.0, 12.0),
        ("10 1/2", 13.0, wide),
        ("14 1/2", 12.5, 14.0),
    ):
        for setting, girth in (("0", closed), ("12", open_in)):
            bench_trees.measure_tree(
                store,
                Act(clock.now),
                choices,
                tree_id,
                BareTreeReading(setting, height, f"{girth}"),
            )
    words = {one.choice.label: one.words for one in choice_page(store, choices, boots.left).offered}
    assert words["only"].endswith(said), words


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        (TreeTyped("", "left"), "label"),
        (TreeTyped("4", "left"), "label"),
        (TreeTyped("7", "both"), "side"),
        (TreeTyped("7", "left", closed="15", open="14"), "open"),
        (TreeTyped("7", "left", closed="fifteen"), "closed"),
        (TreeTyped("7", "left", open_setting="many"), "open_setting"),
    ],
)
def test_a_tree_that_cannot_be_is_refused_at_its_field(
    store: Store, choices: Shop, boots: Pair, clock: Clock, typed: TreeTyped, field: str
) -> None:
    """One sentence at the field, nothing stored."""
    with pytest.raises((BadInput, BadReading)) as refused:
        bench_trees.add_tree(store, Act(clock.now), choices, typed)
    assert refused.value.field == field
    assert len(trees.everyone(store)) == 2


def test_a_tree_too_small_says_both_girths(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Wide open it is less than the boot inside already."""
    tree(store, "tiny", open_um=330_000)
    with pytest.raises(
        BadInput,
        match=(r"Tree tiny is too small: 13 in wide open\. The boot is 13.* in inside already"),
    ):
        put_on_turn_up_take_off.put_on(
            store,
            Act(clock.now),
            choices,
            boots.left,
            StepInput(clock.now),
            PutOn("tiny", before="14 3/8"),
        )


def test_a_tree_with_a_boot_on_it_does_not_go_in_repair(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """First the boot comes off."""
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    tree_id = trees.by_label(store, "4").id  # type: ignore[union-attr]  # it is there
    with pytest.raises(BadInput, match="A boot is on tree 4"):
        bench_trees.set_state(store, Act(clock.now), tree_id, "repair")


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        (PutOn("4", before="14 3/8", on_tree="380", override_why="master-looked"), "on_tree"),
        (PutOn("4", before="365", on_tree="15"), "before"),
        (PutOn("4", before="14 3/8", on_tree="15", mark="40"), "mark"),
    ],
)
def test_a_length_in_another_unit_is_said_at_its_field(
    store: Store, choices: Shop, boots: Pair, clock: Clock, typed: PutOn, field: str
) -> None:
    """380 where inches are typed is millimetres, and no mark is forty inches up: one sentence,
    nothing stored, no reason lets it through.
    """
    with pytest.raises(BadReading, match="the tape and the unit") as refused:
        put_on_turn_up_take_off.put_on(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), typed
        )
    assert refused.value.field == field
    assert rounds.of_item(store, boots.left) == []


def test_a_rested_reading_wider_than_on_the_tree_is_asked_about_once(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """Leather goes back when it comes off: an inch more than on the tree is a slip, unless it was
    read twice.
    """
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    clock.on(days=7)
    put_on_turn_up_take_off.take_off(store, Act(clock.now), boots.left, StepInput(clock.now))
    clock.on(hours=25)
    with pytest.raises(BadReading, match="1 in more than the 15 in on the tree") as asked:
        measure_again(
            store, Act(clock.now), choices, boots.left, StepInput(clock.now), RestedReading("16")
        )
    assert asked.value.field == "tape_right"
    assert rounds.of_item(store, boots.left)[0].rested_um is None
    measure_again(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        RestedReading("16", tape_right=True),
    )
    assert rounds.of_item(store, boots.left)[0].rested_um == 406_400


def test_a_reading_too_early_is_said_to_be_kept_and_not_to_count(
    store: Store, choices: Shop, boots: Pair, clock: Clock
) -> None:
    """An hour off the tree: the answer to the save says so, not only the history."""
    put_on_turn_up_take_off.put_on(
        store,
        Act(clock.now),
        choices,
        boots.left,
        StepInput(clock.now),
        PutOn("4", before="14 3/8", on_tree="15"),
    )
    clock.on(days=7)
    put_on_turn_up_take_off.take_off(store, Act(clock.now), boots.left, StepInput(clock.now))
    clock.on(hours=1)
    said = measure_again(
        store, Act(clock.now), choices, boots.left, StepInput(clock.now), RestedReading("14 7/8")
    )
    assert said.words == "Measured too early: saved, but it does not count"
    clock.on(hours=24)
    assert (
        measure_again(
            store,
            Act(clock.now),
            choices,
            boots.left,
            StepInput(clock.now),
            RestedReading("14 3/4"),
        ).words
        == "to decide"
    )
