"""What somebody at a terminal sees of a long command, and what a file gets."""

from __future__ import annotations

import argparse
import io

import pytest

from fitcounter import how_far as work
from fitcounter.cli import how_far
from fitcounter.cli.how_far import HowFar
from fitcounter.desk.common.translation import speaking
from fitcounter.store.integrity import READING


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def tell_four_times(shown: HowFar, clock: list[float], every: float) -> None:
    for done in range(4):
        clock[0] += every
        shown(READING, done, 4)


def test_a_terminal_shows_a_bar_that_makes_room_for_the_answer() -> None:
    clock, out = [0.0], Terminal()
    shown = HowFar(out, lambda: clock[0], lambda: 60)
    tell_four_times(shown, clock, 1)
    bars = out.getvalue().split("\r")[1:]
    assert [bar[-4:] for bar in bars] == ["  0%", " 25%", " 50%", " 75%"]
    assert bars[2] == "Reading it to its end [##############...............]  50%"
    shown.end()
    assert out.getvalue().endswith("\r" + " " * len(bars[-1]) + "\r")


def test_a_narrow_terminal_is_never_overrun() -> None:
    clock, out = [0.0], Terminal()
    shown = HowFar(out, lambda: clock[0], lambda: 24)
    tell_four_times(shown, clock, 1)
    assert max(len(bar) for bar in out.getvalue().split("\r")) == 23


def test_a_file_gets_a_line_now_and_then_in_the_language_spoken() -> None:
    clock, out = [0.0], io.StringIO()
    shown = HowFar(out, lambda: clock[0])
    with speaking("es"):
        tell_four_times(shown, clock, 10)
    shown.end()
    assert out.getvalue() == "Leyéndolo hasta el final: 0%\nLeyéndolo hasta el final: 50%\n"


@pytest.mark.parametrize("out", [Terminal(), io.StringIO()])
def test_what_is_over_soon_shows_nothing(out: io.StringIO) -> None:
    clock = [0.0]
    shown = HowFar(out, lambda: clock[0])
    tell_four_times(shown, clock, 0.1)
    shown.end()
    assert out.getvalue() == ""


def test_a_command_shows_how_far_it_is_beside_what_it_prints(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    @how_far.shown
    def command(given: argparse.Namespace) -> int:
        """A command."""
        work.tell(READING, 1, 2)
        print("done")
        return 7

    monkeypatch.setattr(how_far, "LINE_AFTER_S", -1.0)
    assert command(argparse.Namespace()) == 7
    said = capsys.readouterr()
    assert (said.out, said.err) == ("done\n", "Reading it to its end: 50%\n")
    assert command.__doc__ == "A command."
    work.tell(READING, 2, 2)
    assert capsys.readouterr() == ("", "")
