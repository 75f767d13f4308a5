"""An item's states and what may follow them."""

from __future__ import annotations

import pytest

from fitcounter.fit import item_states

# Every step, where it may start and where it leads, written out once more by hand as the bench
# would say it.
EXPECTED = {
    "arrive": ("expected", "counter"),
    "agree": ("expected counter", "queued"),
    "prepare": ("queued to-decide", "prepared"),
    "put-on": ("queued prepared to-decide", "on-tree"),
    "turn-up": ("on-tree", "on-tree"),
    "take-off": ("on-tree", "resting"),
    "leave-on": ("on-tree", "on-tree"),
    "measure-again": ("resting to-decide", "to-decide"),
    "early-reading": ("resting", "resting"),
    "another-round": ("to-decide", "queued"),
    "done": ("counter queued to-decide", "finishing"),
    "finish": ("to-decide finishing", "finished"),
    "start-work": ("queued", "working"),
    "work-done": ("queued working", "shelved"),
    "shelve": ("finishing finished declined shelved", "shelved"),
    "try-on": ("shelved", "shelved"),
    "back-on-tree": ("shelved", "queued"),
    "more-work": ("finished shelved", "finishing"),
    "hand-over": ("shelved declined finished", "out"),
    "come-back": ("out", "queued"),
    "close": ("out", "closed"),
    "wait": (
        "queued prepared on-tree resting to-decide finishing finished counter working",
        "waiting",
    ),
    "go-on": ("waiting stopped", "queued"),
    "stop": (
        "queued prepared on-tree resting to-decide finishing finished working shelved waiting",
        "stopped",
    ),
    "decline": (
        (
            "expected counter queued prepared on-tree resting to-decide finishing finished working"
            " shelved waiting stopped declined"
        ),
        "declined",
    ),
}
STATES = (*item_states.WAY, "working", *item_states.ASIDE)


def test_every_step_is_listed_and_no_other():
    assert set(item_states.STEPS) == set(EXPECTED)


@pytest.mark.parametrize("step", EXPECTED)
def test_a_step_starts_only_where_the_bench_would_say_so(step: str):
    assert {state for state in STATES if item_states.may(state, step)} == set(
        EXPECTED[step][0].split()
    )


@pytest.mark.parametrize("step", EXPECTED)
def test_a_step_leads_where_the_bench_would_say_so(step: str):
    for start in EXPECTED[step][0].split():
        assert item_states.after(start, step) == EXPECTED[step][1] or step == "go-on"
    assert item_states.after("on-tree", "turn-up") == "on-tree"
    assert item_states.after("shelved", "try-on") == "shelved"


def test_going_on_leads_back_to_where_it_waited():
    assert item_states.after("waiting", "go-on", "resting") == "resting"
    assert item_states.after("waiting", "go-on", "on-tree") == "on-tree"
    assert item_states.after("stopped", "go-on", "prepared") == "prepared"
    assert item_states.after("waiting", "go-on") == "queued"


def test_what_went_wrong_on_a_tree_came_off_it():
    assert item_states.after("stopped", "go-on", "on-tree") == "resting"


def test_what_was_skipped_is_named_up_to_where_the_step_may_start():
    assert item_states.missing("counter", "take-off", "stretch") == (
        "queued",
        "prepared",
        "on-tree",
    )
    assert item_states.missing("queued", "measure-again", "stretch") == (
        "prepared",
        "on-tree",
        "resting",
    )
    assert item_states.missing("on-tree", "finish", "stretch") == ("resting", "to-decide")
    assert item_states.missing("expected", "put-on", "stretch") == ("counter", "queued")
    assert item_states.missing("waiting", "take-off", "stretch") == (
        "counter",
        "queued",
        "prepared",
        "on-tree",
    )
    assert item_states.missing("on-tree", "done", "stretch") == ("resting", "to-decide")
    assert item_states.missing("prepared", "done", "stretch") == ("on-tree", "resting", "to-decide")


def test_a_step_that_follows_skips_nothing():
    for step, (starts, _) in EXPECTED.items():
        for start in starts.split():
            assert item_states.missing(start, step, "stretch") == ()


def test_a_step_backwards_is_a_correction_and_skips_nothing():
    assert item_states.missing("shelved", "prepare", "stretch") == ()
    assert item_states.missing("resting", "agree", "stretch") == ()


def test_other_work_skips_along_its_own_five_states():
    assert item_states.missing("queued", "hand-over", "other") == ("working", "shelved")
    assert item_states.missing("working", "prepare", "other") == ()
    assert item_states.way("other") == ("queued", "working", "shelved", "out", "closed")
    assert item_states.missing("queued", "measure-again", "other") == ()


def test_the_catch_up_list_offers_only_what_lies_ahead_and_never_the_door():
    assert item_states.further("on-tree", "stretch") == (
        "resting",
        "to-decide",
        "finishing",
        "finished",
        "shelved",
    )
    assert item_states.further("queued", "other") == ("working", "shelved")
    assert item_states.further("expected", "stretch")[0] == "counter"
    assert "out" not in item_states.further("counter", "stretch")
    assert item_states.further("shelved", "stretch") == ()


@pytest.mark.parametrize(
    ("state", "work", "step"),
    [
        ("expected", "stretch", "arrive"),
        ("counter", "stretch", "agree"),
        ("queued", "stretch", "prepare"),
        ("queued", "other", "start-work"),
        ("working", "other", "work-done"),
        ("prepared", "stretch", "put-on"),
        ("on-tree", "stretch", "take-off"),
        ("resting", "stretch", "measure-again"),
        ("to-decide", "stretch", "another-round"),
        ("finishing", "stretch", "finish"),
        ("finished", "stretch", "shelve"),
        ("shelved", "stretch", "hand-over"),
        ("declined", "stretch", "hand-over"),
        ("out", "stretch", "come-back"),
        ("waiting", "stretch", "go-on"),
        ("stopped", "stretch", "go-on"),
    ],
)
def test_every_open_state_has_its_one_next_step(state: str, work: str, step: str):
    found = item_states.next_step(state, work)
    assert found is not None
    assert found.name == step
    assert item_states.may(state, step)


def test_what_is_over_has_no_next_step():
    assert item_states.next_step("closed", "stretch") is None
    assert item_states.next_step("closed", "other") is None


def test_other_work_ends_as_a_boot_does():
    for state in ("shelved", "out", "waiting", "stopped", "declined"):
        assert item_states.next_step(state, "other") == item_states.next_step(state, "stretch")


def test_a_ticket_is_ready_when_all_that_is_still_here_is():
    assert item_states.ready(["shelved", "shelved"])
    assert item_states.ready(["shelved", "out"])
    assert item_states.ready(["declined"])
    assert not item_states.ready(["shelved", "resting"])
    assert not item_states.ready(["out", "closed"])
    assert not item_states.ready([])


def test_every_state_is_said_in_words():
    assert set(item_states.WORDS) == set(STATES)
    assert all(words and words == words.lower() for words in item_states.WORDS.values())
    assert len(set(item_states.WORDS.values())) == len(item_states.WORDS)
    assert all(step.words for step in item_states.STEPS.values())
