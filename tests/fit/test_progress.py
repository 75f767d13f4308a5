"""An item's states and what may follow them."""

from __future__ import annotations

import pytest

from fitcounter.fit import progress

# Every step, where it may start and where it leads, written out once more by hand as the bench would say it.
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
    "hand-over": ("shelved declined finished", "out"),
    "come-back": ("out", "queued"),
    "close": ("out", "closed"),
    "wait": ("queued prepared on-tree resting to-decide finishing finished counter working", "waiting"),
    "go-on": ("waiting stopped", "queued"),
    "stop": ("queued prepared on-tree resting to-decide finishing finished working shelved waiting", "stopped"),
    "decline": (
        "expected counter queued prepared on-tree resting to-decide finishing finished working shelved waiting stopped declined",
        "declined",
    ),
}
STATES = (*progress.WAY, "working", *progress.ASIDE)


def test_every_step_is_listed_and_no_other():
    assert set(progress.STEPS) == set(EXPECTED)


@pytest.mark.parametrize("step", EXPECTED)
def test_a_step_starts_only_where_the_bench_would_say_so(step: str):
    assert {state for state in STATES if progress.may(state, step)} == set(EXPECTED[step][0].split())


@pytest.mark.parametrize("step", EXPECTED)
def test_a_step_leads_where_the_bench_would_say_so(step: str):
    for start in EXPECTED[step][0].split():
        assert progress.after(start, step) == EXPECTED[step][1] or step == "go-on"
    assert progress.after("on-tree", "turn-up") == "on-tree"
    assert progress.after("shelved", "try-on") == "shelved"


def test_going_on_leads_back_to_where_it_waited():
    assert progress.after("waiting", "go-on", "resting") == "resting"
    assert progress.after("waiting", "go-on", "on-tree") == "on-tree"
    assert progress.after("stopped", "go-on", "prepared") == "prepared"
    assert progress.after("waiting", "go-on") == "queued"


def test_what_went_wrong_on_a_tree_came_off_it():
    assert progress.after("stopped", "go-on", "on-tree") == "resting"


def test_what_was_skipped_is_named_up_to_where_the_step_may_start():
    assert progress.missing("counter", "take-off", "stretch") == ("queued", "prepared", "on-tree")
    assert progress.missing("queued", "measure-again", "stretch") == ("prepared", "on-tree", "resting")
    assert progress.missing("on-tree", "finish", "stretch") == ("resting", "to-decide")
    assert progress.missing("expected", "put-on", "stretch") == ("counter", "queued")
    assert progress.missing("waiting", "take-off", "stretch") == ("counter", "queued", "prepared", "on-tree")
    assert progress.missing("on-tree", "done", "stretch") == ("resting", "to-decide")
    assert progress.missing("prepared", "done", "stretch") == ("on-tree", "resting", "to-decide")


def test_a_step_that_follows_skips_nothing():
    for step, (starts, _) in EXPECTED.items():
        for start in starts.split():
            assert progress.missing(start, step, "stretch") == ()


def test_a_step_backwards_is_a_correction_and_skips_nothing():
    assert progress.missing("shelved", "prepare", "stretch") == ()
    assert progress.missing("resting", "agree", "stretch") == ()


def test_other_work_skips_along_its_own_five_states():
    assert progress.missing("queued", "hand-over", "other") == ("working", "shelved")
    assert progress.missing("working", "prepare", "other") == ()
    assert progress.way("other") == ("queued", "working", "shelved", "out", "closed")
    assert progress.missing("queued", "measure-again", "other") == ()


def test_the_catch_up_list_offers_only_what_lies_ahead_and_never_the_door():
    assert progress.further("on-tree", "stretch") == ("resting", "to-decide", "finishing", "finished", "shelved")
    assert progress.further("queued", "other") == ("working", "shelved")
    assert progress.further("expected", "stretch")[0] == "counter"
    assert "out" not in progress.further("counter", "stretch")
    assert progress.further("shelved", "stretch") == ()


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
    found = progress.next_step(state, work)
    assert found is not None
    assert found.name == step
    assert progress.may(state, step)


def test_what_is_over_has_no_next_step():
    assert progress.next_step("closed", "stretch") is None
    assert progress.next_step("closed", "other") is None


def test_other_work_ends_as_a_boot_does():
    for state in ("shelved", "out", "waiting", "stopped", "declined"):
        assert progress.next_step(state, "other") == progress.next_step(state, "stretch")


def test_a_ticket_is_ready_when_all_that_is_still_here_is():
    assert progress.ready(["shelved", "shelved"])
    assert progress.ready(["shelved", "out"])
    assert progress.ready(["declined"])
    assert not progress.ready(["shelved", "resting"])
    assert not progress.ready(["out", "closed"])
    assert not progress.ready([])


def test_every_state_is_said_in_words():
    assert set(progress.WORDS) == set(STATES)
    assert all(words and words == words.lower() for words in progress.WORDS.values())
    assert len(set(progress.WORDS.values())) == len(progress.WORDS)
    assert all(step.words for step in progress.STEPS.values())
