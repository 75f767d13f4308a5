"""What the set-up says on the terminal, in its language, with the standard library alone."""

from __future__ import annotations

import pytest

from fitcounter.desk.common import translation
from fitcounter.first_run import terminal_and_set_up_log

FETCHING = "Installing {packages} with apt-get."


@pytest.fixture
def locale(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    for name in ("LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.delenv(name, raising=False)
    return monkeypatch


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("LANG", "es_ES.UTF-8", "Instalando libpango con apt-get.\n"),
        ("LC_ALL", "es", "Instalando libpango con apt-get.\n"),
        ("LANG", "C.UTF-8", "Installing libpango with apt-get.\n"),
        ("LANG", "tlh", "Installing libpango with apt-get.\n"),
        ("LANG", "../../etc", "Installing libpango with apt-get.\n"),
    ],
)
def test_a_sentence_is_said_in_the_terminals_language(
    locale: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    name: str,
    value: str,
    said: str,
) -> None:
    locale.setenv(name, value)
    terminal_and_set_up_log.say(FETCHING, packages="libpango")
    assert capsys.readouterr().err == said


def test_its_reader_of_the_catalogue_reads_as_the_programs_own(locale: pytest.MonkeyPatch) -> None:
    locale.setenv("LANG", "es")
    known = terminal_and_set_up_log._catalogue("es")
    assert len(known) > 1000
    spoken = translation.speech("es")
    assert all(spoken.known(sentence) == said for sentence, said in known.items() if sentence)


def test_stop_says_why_and_ends(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        terminal_and_set_up_log.stop("{file}: {reason}.", file="/x", reason="no room")
    assert ended.value.code == terminal_and_set_up_log.CANNOT_GO_ON
    assert capsys.readouterr().err == "/x: no room.\n"
