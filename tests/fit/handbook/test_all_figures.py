"""The handbook: every figure has its unit, source and trust word, and no other number is computed
with.
"""

from __future__ import annotations

import ast
import json
from pathlib import Path

import pytest
from support.published_cases import TRUST_WORDS

from fitcounter.fit.assessment import handbook_notes
from fitcounter.fit.handbook import all_figures
from fitcounter.fit.handbook import leather as handbook_leather
from fitcounter.fit.handbook import leg as handbook_leg
from fitcounter.fit.handbook import rounds as handbook_rounds
from fitcounter.fit.handbook.figure import Chapter, Figure, Trust

FIT = Path(all_figures.__file__).parents[1]
ALLOWED = json.loads(
    (Path(__file__).parent / "numbers_outside_the_handbook.json").read_text(encoding="utf-8")
)
PLAIN = {0, 1, 2, 0.5, 100}


def test_every_figure_says_what_it_is_where_it_comes_from_and_how_far_to_trust_it() -> None:
    """Chapter, name, value, source, one of the trust words; no two figures of a chapter share name
    and value.
    """
    figures = all_figures.entries()
    assert len(figures) > 250
    for figure in figures:
        assert figure.name
        assert figure.source, figure
        assert figure.trust in TRUST_WORDS
        assert figure.text
    assert {figure.trust for figure in figures} == set(Trust)


def test_what_is_not_published_never_says_so() -> None:
    """Common practice says that it has no source; the shop's choice gives a reason; from memory is
    said where it is so.
    """
    for figure in all_figures.entries():
        if figure.trust is Trust.COMMON_PRACTICE:
            assert "no source" in figure.source or "24 to 36 h" in figure.source, figure
    by_name = {figure.name: figure for figure in all_figures.entries()}
    assert "from memory" in by_name["ball test: least distension"].source
    assert by_name["hold unless said"].trust is Trust.COMMON_PRACTICE
    assert by_name["inch"].trust is Trust.STANDARD


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (0.13, "share", "13 %"),
        (25.4, "mm", "25.4 mm"),
        (4, "", "4"),
        (-0.012, "share", "-1.2 %"),
        (1e-6, "mm", "1e-06 mm"),
    ],
)
def test_a_figure_is_printed_with_its_unit(value: float, unit: str, text: str) -> None:
    """Shares in per cent."""
    assert Figure("c", "n", value, unit, Trust.STANDARD, "s").text == text


def test_a_chapter_hands_the_bare_number_on_and_keeps_the_figure() -> None:
    """So that a number cannot be used without standing in the book."""
    chapter = Chapter("Test")
    assert chapter.choice("one", 7, "mm", "because") == 7
    assert chapter.figure("two", 8.5, "mm", Trust.STANDARD, "a standard") == 8.5
    assert [(figure.name, figure.trust) for figure in chapter.figures] == [
        ("one", Trust.SHOPS_CHOICE),
        ("two", Trust.STANDARD),
    ]


def test_the_table_of_limits_is_the_one_that_was_agreed() -> None:
    """Routine, round, ceiling in per cent; kept fraction; strain at 10 MPa; thickness."""
    agreed = {
        "supple-full-grain": (4, 10, 17, 0.50, 0.25, (1.0, 1.4)),
        "full-grain": (4, 7, 14, 0.50, 0.20, (1.2, 2.0)),
        "firm-full-grain": (3, 4, 8, 0.45, 0.16, (1.2, 2.2)),
        "oiled": (4, 6, 10, 0.45, 0.20, (1.6, 2.4)),
        "nubuck": (4, 6, 11, 0.50, 0.22, (1.2, 1.8)),
        "split-suede": (3, 4, 7, 0.45, 0.22, (1.0, 1.6)),
        "goat": (4, 5, 9, 0.50, 0.22, (0.6, 1.0)),
        "sheep": (3, 4, 7, 0.45, 0.30, (0.7, 1.1)),
        "corrected-grain": (2, 3, 5, 0.40, 0.16, (1.2, 1.8)),
        "vegetable-tanned": (2, 3, 5, 0.50, 0.15, (2.0, 3.0)),
        "unknown": (2, 2.5, 5, 0.35, 0.20, (1.2, 1.8)),
        "exotic": (0, 1, 2, 0.35, 0.15, (0.6, 1.2)),
    }
    for code, (routine, most, ceiling, kept, e10, thick) in agreed.items():
        leather = handbook_leather.LEATHERS[code]
        assert (leather.routine, leather.round, leather.ceiling) == (
            routine / 100,
            most / 100,
            ceiling / 100,
        )
        assert (leather.kept_mean, leather.kept_sd, leather.strain_10mpa, leather.thickness_mm) == (
            kept,
            0.15,
            e10,
            thick,
        )
        assert not leather.refused
    assert [code for code, leather in handbook_leather.LEATHERS.items() if leather.refused] == [
        "coated",
        "synthetic",
    ]


def test_the_three_variances_make_up_the_tables_spread() -> None:
    """Between pairs, within a pair, and of the class mean: together 0.15²."""
    between = handbook_rounds.PAIR_VARIANCE + handbook_rounds.OWN_BOOT_VARIANCE
    assert between == pytest.approx(0.0125)
    assert between + handbook_rounds.CLASS_MEAN_VARIANCE == pytest.approx(0.15**2)


def test_the_tolerance_is_an_eighth_of_an_inch() -> None:
    """Inside reading error, never chased."""
    eighth = float(handbook_leg.MM_PER_INCH / 8)
    assert eighth == pytest.approx(handbook_leg.TOLERANCE_MM)


def test_the_anchors_beside_the_ceiling_are_computed_from_their_figures() -> None:
    """15.2 % at the ball test, 7.24 % each way on the dome, 2.5 to 3.7 % for one visit."""
    notes = handbook_notes.beside_the_ceiling()
    said = " ".join(note.sentence for note in notes)
    visit = "⅜ in lined, ½ in unlined, 2.51 % to 3.74 %"
    for words in (
        "15.2 % on average",
        "15 % in area, 7.24 % each way",
        visit,
        "about 12 %",
        "14.5 % of the leather for good, so 17.5 %, 15.7 % or 15.1 % on the tree",
        "CEN/TS 14689",
        "at 7 %",
    ):
        assert words in said
    assert all(note.source and note.trust in Trust for note in notes)
    assert "from memory" in notes[0].source


def test_the_saying_of_600_psi_can_only_mean_stress_in_the_leather() -> None:
    """4.137 MPa; 4.96 to 8.27 N/mm; 12 to 20 psi; 207 to 124 MPa in leather that breaks at 8 to
    25.
    """
    note = handbook_notes.the_saying()
    wall = ("12.0 to 20.0 psi", "207 to 124 MPa", "breaks at 8 to 25")
    for words in ("600 lb", "4.137 MPa", "4.96 to 8.27 N/mm", *wall, "only mean stress"):
        assert words in note.sentence
    assert (note.trust, "no source" in note.source) == (Trust.COMMON_PRACTICE, True)


def numbers(source: str) -> list[tuple[int | float, int]]:
    """Every number written in a module, with its line."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if (
            isinstance(node, ast.Constant)
            and isinstance(node.value, int | float | complex)
            and not isinstance(node.value, bool)
        ):
            found.append((node.value, node.lineno))
    return found


@pytest.mark.parametrize(
    "module",
    sorted(
        str(path.relative_to(FIT)) for path in FIT.rglob("*.py") if path.parent.name != "handbook"
    ),
)
def test_no_number_is_computed_with_that_is_not_in_the_handbook(module: str) -> None:
    """0, 1, 2, ½ and 100 aside; what else a module writes down stands in
    numbers_outside_the_handbook.json with a reason.
    """
    entries = ALLOWED.get(module, [])
    if any(entry["numbers"] == "artwork" for entry in entries):
        assert module.startswith("drawings/")
        return
    allowed = {value for entry in entries for value in entry["numbers"]}
    strangers = [
        (value, line)
        for value, line in numbers((FIT / module).read_text(encoding="utf-8"))
        if value not in PLAIN | allowed
    ]
    assert not strangers, f"{module}: write these down in the handbook: {strangers}"


def test_every_allowance_is_used_and_gives_its_reason() -> None:
    """A number that is gone from its module is gone from the list."""
    for module, entries in ALLOWED.items():
        written = {value for value, _ in numbers((FIT / module).read_text(encoding="utf-8"))}
        for entry in entries:
            assert len(entry["reason"]) > 10
            assert entry["numbers"] == "artwork" or set(entry["numbers"]) <= written, (
                module,
                entry,
            )


def test_a_new_number_would_be_found() -> None:
    """The check can fail."""
    assert numbers("x = 3.7 * y") == [(3.7, 1)]
    assert numbers("x = True") == []
