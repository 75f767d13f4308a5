"""The measuring sheet as it is shown: its heights, what stands in its cells, and what is asked."""

from __future__ import annotations

from contextlib import suppress

import pytest
from support.measured_pair import BOOT, GAPS, LEG, cells, save_gap, sheet_of, take_in

from fitcounter.desk.measuring import page
from fitcounter.desk.measuring import save as measuring_save
from fitcounter.desk.measuring.how_it_was_read import Terms
from fitcounter.desk.measuring.sheet import FreeLines
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound, Unavailable
from fitcounter.store import fits
from fitcounter.store.database import Act, Store
from fitcounter.store.records import Item


@pytest.fixture
def fit_id(store: Store, act: Act) -> int:
    return take_in(store, act)


def test_a_height_is_written_as_it_is_typed() -> None:
    assert page.height_text(317.5, "in") == "12 1/2"
    assert page.height_text(318.0, "cm") == "31.8"
    assert page.height_text(310.0, "cm") == "31"


def test_an_empty_sheet_has_the_usual_heights_of_its_way_and_free_lines(
    store: Store, choices: Shop, fit_id: int
) -> None:
    shown = page.look(store, choices, fit_id, target="leg", free=FreeLines(2))
    assert (shown.target, shown.depth, shown.cells) == ("leg", "three", {})
    assert [line.typed for line in shown.lines] == [False] * 3 + [True] * 2
    whole = page.look(store, choices, fit_id, "whole", "leg", free=FreeLines(sent=9))
    assert len(whole.lines) == max(9, len(choices.heights_mm))


def test_what_was_read_stands_in_its_cells_as_it_was_typed(
    store: Store, act: Act, choices: Shop, fit_id: int
) -> None:
    save_gap(store, act, fit_id)
    shown = page.look(store, choices, fit_id)
    assert (shown.target, shown.depth) == ("gap", "read")
    assert [line.height for line in shown.lines] == ["10 1/2", "12 1/2", "14 1/2"]
    assert shown.cells == cells(gap=GAPS, boot=BOOT)


def test_a_sheet_is_the_pair_of_one_moment_whoever_saves_meanwhile(
    store: Store, act: Act, choices: Shop, fit_id: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    boots_of = fits.boots

    def saved_meanwhile(here: Store, of: int) -> list[Item]:
        monkeypatch.setattr(fits, "boots", boots_of)
        other = Store(store.path)
        with suppress(Unavailable):  # without a write-ahead log whoever saves waits
            save_gap(other, act, fit_id)
        other.close()
        return boots_of(here, of)

    monkeypatch.setattr(fits, "boots", saved_meanwhile)
    assert page.look(store, choices, fit_id).cells == {}


def test_a_reading_in_another_unit_than_the_page_is_shown_with_its_own(
    store: Store, act: Act, choices: Shop, fit_id: int
) -> None:
    typed = cells(gap=GAPS, boot=BOOT)
    typed["gap_left_0"] = "9 mm"
    measuring_save.save(store, act, fit_id, sheet_of("gap", typed), Terms(), None)
    assert page.look(store, choices, fit_id).cells["gap_left_0"] == "9 mm"
    with store.write_tx():
        store.change("fits", fit_id, unit="cm")
    assert page.look(store, choices, fit_id).cells["gap_right_0"] == "3/8 in"


def test_a_reading_that_looks_like_a_slip_is_asked_for_once_more(
    store: Store, act: Act, choices: Shop, fit_id: int
) -> None:
    """One leg read 18 in where it is about 14: a question, in words, at its cell."""
    typed = cells(leg=LEG, boot=BOOT) | {"leg_left_1": "18"}
    measuring_save.save(store, act, fit_id, sheet_of("leg", typed), Terms(), None)
    shown = page.look(store, choices, fit_id)
    assert any("leg" in place for ask in shown.asks for place in ask.where)
    assert "leg_left_1" in shown.again
    quiet = page.look(store, choices, fit_id, skipped=None)
    assert (quiet.asks, quiet.again) == ((), frozenset())


def test_the_page_is_headed_by_its_ticket_and_customer(store: Store, fit_id: int) -> None:
    fit = fits.get(store, fit_id)
    ticket, customer = page.whose(store, fit)
    assert (ticket.id, customer.name) == (fit.ticket_id, "Marisol Okafor-Lind")
    with pytest.raises(NotFound):
        page.whose(store, fit._replace(ticket_id=99))
