"""What the handbook says beside its figures, computed from them."""

from __future__ import annotations

from fitcounter.fit.assessment import handbook_notes
from fitcounter.fit.handbook.figure import Trust


def test_every_note_beside_the_ceiling_says_how_far_to_trust_it_and_where_it_is_from() -> None:
    notes = handbook_notes.beside_the_ceiling()
    assert all(note.sentence.endswith(".") and note.source for note in notes)
    assert {note.trust for note in notes} <= set(Trust)
    assert len({note.sentence for note in notes}) == len(notes)


def test_a_visit_is_told_on_the_shops_own_tape() -> None:
    """Three eighths lined, half an inch unlined; the shares are the same on any tape."""
    inches, metric = (handbook_notes.beside_the_ceiling(unit)[2].sentence for unit in ("in", "cm"))
    assert inches.startswith("One visit: ⅜ in lined, ½ in unlined, ")
    assert metric.startswith("One visit: 1.0 cm lined, 1.3 cm unlined, ")
    assert (
        inches.partition("unlined, ")[2].partition(", ")[2]
        == (metric.partition("unlined, ")[2].partition(", ")[2])
    )


def test_the_saying_is_worked_out_as_stress_and_as_pressure() -> None:
    note = handbook_notes.the_saying()
    assert "600 lb per square inch to stretch leather” is 4.137 MPa" in note.sentence
    assert note.trust is Trust.COMMON_PRACTICE
