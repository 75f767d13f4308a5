"""Eighteen faults of the computation, each with the test that must find it: (file under fit/, the
code as it is, the code with the fault, the test).
"""

from __future__ import annotations

from typing import NamedTuple


class Fault(NamedTuple):
    """what: in words; right: stands once in the file; wrong: stands there with the fault."""

    what: str
    file: str
    right: str
    wrong: str
    found_by: str


FAULTS = (
    Fault(
        "looseness counts room as gain",
        "trees/serving.py",
        "gain - max(0.0, wanted.need.at(height_mm))",
        "gain - wanted.need.at(height_mm)",
        "trees/test_choice.py::test_room_is_no_gain",
    ),
    Fault(
        "one round of a tree is limited on the first leather",
        "trees/limits.py",
        "wanted.first.at(height_mm), wanted.boot.at(height_mm)",
        "wanted.first.at(height_mm), wanted.first.at(height_mm)",
        "trees/test_limits.py::test_one_round_is_limited_on_the_leather_as_it_is_now",
    ),
    Fault(
        "a tree sits lower where it is said to sit higher",
        "trees/calibration.py",
        "tuple(height + up_mm for height",
        "tuple(height - up_mm for height",
        "trees/test_calibration.py::test_a_tree_set_higher_keeps_its_girths_and_moves_its_heights",
    ),
    Fault(
        "the share of growth is not clamped",
        "assessment/girth_now.py",
        "[min(1.0, need / most) if",
        "[need / most if",
        "assessment/test_girth_now.py::"
        "test_growth_is_shared_by_need_and_no_height_grows_more_than_the_tightest",
    ),
    Fault(
        "a second look asks at once the doubt, not twice",
        "handbook/leg.py",
        "LOOK_AGAIN_U = ",
        "LOOK_AGAIN_U = 0.5 * ",
        "assessment/test_assess.py::test_the_worked_examples_come_out",
    ),
    Fault(
        "of two places as tight the higher one is taken",
        "assessment/girth_now.py",
        "return next(place for place in short if strains[place] >= enough)",
        "return [place for place in short if strains[place] >= enough][-1]",
        "assessment/test_need_and_doubt.py::"
        "test_the_tightest_place_is_a_share_of_the_leather_and_the_lower_one_on_a_tie",
    ),
    Fault(
        "a worn zip counts as sound",
        "assessment/load.py",
        'if boot.zip.state == "worn" else 1',
        'if boot.zip.state == "damaged" else 1',
        "assessment/test_load.py::test_a_worn_zip_opens_less_than_a_sound_one_all_through",
    ),
    Fault(
        "zip and seams hold by their widest place",
        "assessment/load.py",
        "return min((each.leather_mm for each in opened if each.share > 0), default=None)",
        "return max((each.leather_mm for each in opened if each.share > 0), default=None)",
        "assessment/test_load.py::"
        "test_zip_and_seams_hold_by_the_place_where_they_are_strained_most",
    ),
    Fault(
        "gains that share a reading count as independent",
        "assessment/kept_fraction.py",
        "ke=-spread * a * c,",
        "ke=0.0,",
        "assessment/test_kept_fraction.py::test_a_boots_own_rounds_correct_the_guess",
    ),
    Fault(
        "a girth read anew keeps the error of the one before",
        "assessment/kept_fraction.py",
        "return replace(self, e=0.0, ke=0.0, ef=0.0, ee=variance, surprise=None)",
        "return replace(self, surprise=None)",
        "assessment/test_kept_fraction.py::test_a_reading_of_its_own_forgets_the_error_before_it",
    ),
    Fault(
        "the first round stiffens too",
        "assessment/kept_fraction.py",
        "* book.STIFFENING ** (number - 1)",
        "* book.STIFFENING**number",
        "assessment/test_kept_fraction.py::"
        "test_what_a_round_keeps_grows_with_the_hold_and_falls_with_age_and_dryness",
    ),
    Fault(
        "the other boot of a pair tells all of this one",
        "assessment/kept_fraction.py",
        "shared = max(variance - book.OWN_BOOT_VARIANCE, book.PAIR_SHARES_LEAST * variance)",
        "shared = variance",
        "assessment/test_kept_fraction.py::test_the_other_boot_of_a_pair_is_evidence",
    ),
    Fault(
        "the class learns by boots, not by pairs",
        "assessment/kept_fraction.py",
        "weight = 1 / (book.PAIR_VARIANCE + 1 / sum(weights))",
        "weight = sum(weights)",
        "assessment/test_kept_fraction.py::test_the_shops_records_correct_the_class",
    ),
    Fault(
        "the bench reads once near the limit",
        "assessment/rounds_ahead.py",
        "self.sigma = BOOT_READING_MM * _HALF_ROOT * (",
        "self.sigma = BOOT_READING_MM * (",
        "assessment/test_rounds_ahead.py::test_the_worked_case_before_any_round",
    ),
    Fault(
        "a path goes on by openings within tolerance",
        "assessment/rounds_ahead.py",
        "            if opening <= LEAST_OPENING_MM:\n                break",
        "            if opening <= 0:\n                break",
        "assessment/test_rounds_ahead.py::"
        "test_a_path_ends_where_its_next_opening_is_within_tolerance",
    ),
    Fault(
        "what done boots fit forgets the error of the first reading",
        "assessment/rounds_ahead.py",
        "tally.called(1 - short, room - extra)",
        "tally.called(1 - short, room)",
        "assessment/test_rounds_ahead.py::test_the_worked_case_before_any_round",
    ),
    Fault(
        "a small gain stops at one standard deviation",
        "assessment/no_further_round.py",
        "surprise < -book.SMALL_GAIN_SDS",
        "surprise < -1",
        "assessment/test_no_further_round.py"
        "::test_a_first_round_gained_too_little_under_six_millimetres",
    ),
    Fault(
        "a leg read over the boot's highest reading is dropped in silence",
        "assessment/read_span.py",
        "    if above and not (",
        "    if False and not (",
        "assessment/test_read_span.py::"
        "test_a_leg_read_higher_than_the_boot_is_refused_with_both_ways_out",
    ),
)
