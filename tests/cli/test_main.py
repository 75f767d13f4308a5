"""The command line as people and scripts use it: real processes, what they print and the codes they
end with.
"""

from __future__ import annotations

import json
import os
import re
import resource
import subprocess
import sys
import urllib.request
from pathlib import Path
from typing import Any

import pytest
from support.paths import CHECKOUT

from fitcounter.cli import main as cli_main

SIDE: dict[str, Any] = {
    "target": "leg",
    "leg": [
        {"station": "small", "height": "4", "girth": ["9"]},
        {"station": "calf", "height": "12", "girth": ["14 1/4", "14 1/4"]},
    ],
    "boot": [{"height": "4", "girth": ["9 7/8"]}, {"height": "12", "girth": ["13 5/8"]}],
}
JOB: dict[str, Any] = {
    "unit": "in",
    "leg": {"posture": "standing", "over": "sheer"},
    "boot": {"material": "supple-full-grain", "lining": "leather"},
    "left": SIDE,
    "right": SIDE,
}


def run(*arguments: str, typed: str | bytes = "", **extra: str) -> subprocess.CompletedProcess[str]:
    """Run `python -m fitcounter …` as a process of its own."""
    content = typed.encode() if isinstance(typed, str) else typed
    line = [sys.executable, "-m", "fitcounter", *arguments]
    done = subprocess.run(
        line,
        cwd=CHECKOUT,
        env={**os.environ, **extra},
        input=content,
        capture_output=True,
        timeout=120,
    )
    return subprocess.CompletedProcess(
        line, done.returncode, done.stdout.decode(), done.stderr.decode()
    )


def test_help_names_every_command() -> None:
    """--help lists the table of commands, in its order."""
    shown = run("--help")

    assert shown.returncode == 0
    named = [
        line.split()[0]
        for line in shown.stdout.splitlines()
        if line.startswith("    ") and line[4] != " "
    ]
    assert named == list(cli_main.COMMANDS)


def processor_s(line: list[str]) -> float:
    """The least processor time of five runs, in seconds: a busy machine makes it no longer."""
    took = []
    for _ in range(5):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(line, cwd=CHECKOUT, stdout=subprocess.DEVNULL, check=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        took.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(took)


def test_help_comes_at_once() -> None:
    """--help costs at most six times what this Python costs to start with argparse alone: under 0.3
    s on a small machine.
    """
    bare = processor_s(
        [sys.executable, "-c", "import argparse; argparse.ArgumentParser().format_help()"]
    )

    assert processor_s([sys.executable, "-m", "fitcounter", "--help"]) <= 6 * bare


@pytest.mark.parametrize("name", sorted(cli_main.COMMANDS))
def test_every_command_explains_itself(name: str) -> None:
    """COMMAND --help says in a sentence what it is for, and needs no set-up."""
    shown = run(name, "--help")

    assert shown.returncode == 0
    assert cli_main.COMMANDS[name].summary in shown.stdout.replace("\n", " ")
    assert cli_main.needs([name, "--help"]) == ""


def test_starting_up_loads_no_package() -> None:
    """Neither the command line nor `assess` imports anything that has to be installed."""
    line = (
        "import sys; import fitcounter.cli.main; import fitcounter.fit.assessment.assess;"
        " print(*sys.modules)"
    )
    loaded = subprocess.run(
        [sys.executable, "-c", line], cwd=CHECKOUT, capture_output=True, text=True, check=True
    ).stdout.split()

    assert {
        "flask",
        "sqlite_utils",
        "weasyprint",
        "PIL",
        "cheroot",
        "cryptography",
        "qrcode",
    } & set(loaded) == set()


def test_assess_answers_a_file_and_standard_input_alike(tmp_path: Path) -> None:
    """A job in, one JSON object out, exit 0; the same from a file as from -."""
    path = tmp_path / "job.json"
    path.write_text(json.dumps(JOB), encoding="utf-8-sig")  # some editors put a mark at the start

    from_file, from_input = run("assess", str(path)), run("assess", "-", typed=json.dumps(JOB))

    assert (from_file.returncode, from_file.stderr) == (0, "")
    assert from_file.stdout == from_input.stdout
    answer = json.loads(from_file.stdout)
    assert answer["verdict"] in ("none", "routine", "stages", "panel", "repair-first", "refuse")
    assert answer["left"]["worst"]["height_mm"] == pytest.approx(304.8)


def test_a_terminal_without_utf_8_gets_the_same_answer_in_escapes() -> None:
    """The fractions of an inch survive a terminal that has no such signs."""
    plain = run("assess", "-", typed=json.dumps(JOB))
    latin = run("assess", "-", typed=json.dumps(JOB), PYTHONIOENCODING="ascii")
    assert "⅝" in plain.stdout
    assert latin.stdout.isascii()
    assert json.loads(latin.stdout) == json.loads(plain.stdout)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (b"", "is not JSON"),
        (b"{", "line 1, column 2"),
        (b"\xff\xfe", "is not UTF-8"),
        (b"[1]", "the job"),
        (b"[" * 100_000, "nesting"),
        (b'{"unit": ' + b"9" * 5000 + b"}", "a number"),
        (b'{"unit": "in", "unit": "cm"}', "unit is written twice"),
        (
            b'{"left": {"leg": [{"girth": ["9"]}, {"height": "4", "height": "5"}]}}',
            "left.leg[1].height is written twice",
        ),
        (b'{"one\\ntwo": 1}', r"'one\ntwo': there is no such field"),
        (b'{"unit": "furlong"}', "unit"),
        (json.dumps({**JOB, "hold_h": float("nan")}).encode(), "hold_h"),
        (json.dumps({**JOB, "surprise": 1}).encode(), "surprise"),
        (
            json.dumps({**JOB, "left": {**SIDE, "findings": ["\ud800"]}}).encode(),
            "findings[0]",
        ),  # half a sign
    ],
)
def test_a_job_that_cannot_be_read_gets_exit_2_and_one_sentence(typed: bytes, words: str) -> None:
    """Nothing on standard output; on standard error one line that names the field and what to
    write.
    """
    answer = run("assess", "-", typed=typed)

    assert (answer.returncode, answer.stdout) == (2, "")
    assert len(answer.stderr.splitlines()) == 1
    assert words in answer.stderr


@pytest.mark.parametrize("name", ["no-such-file.json", "."])
def test_a_file_that_cannot_be_read_gets_exit_2_and_one_sentence(name: str) -> None:
    """A wrong name and a folder are named, with what to write instead."""
    answer = run("assess", name)

    assert (answer.returncode, answer.stdout) == (2, "")
    assert answer.stderr.startswith(f"{name} cannot be read")
    assert len(answer.stderr.splitlines()) == 1


def test_the_handbook_prints_every_figure_with_its_source() -> None:
    """One line a figure, each with a word of trust and a source."""
    from fitcounter.fit.handbook.all_figures import entries

    lines = run("handbook").stdout.splitlines()

    assert all(
        f"({entry.trust}: {entry.source})" in line
        for entry, line in zip(entries(), lines, strict=False)
    )
    anchors, saying = lines[len(entries()) : -1], lines[-1]
    assert anchors
    assert all(line.startswith("Beside the ceiling · ") for line in anchors)
    assert "15.2 %" in anchors[0]
    assert "4.137 MPa" in saying


def test_a_reader_that_has_seen_enough_ends_it_quietly() -> None:
    """`fitcounter handbook | head -1` prints one line and no complaint."""
    line = f"{sys.executable} -m fitcounter handbook | head -1"
    done = subprocess.run(
        ["bash", "-o", "pipefail", "-c", line], cwd=CHECKOUT, capture_output=True, text=True
    )

    assert (done.returncode, done.stderr, len(done.stdout.splitlines())) == (0, "", 1)


@pytest.mark.parametrize(
    ("streams", "code", "words"),
    [
        (">&-", 0, ""),
        ("<&-", 2, "Standard input is not JSON"),
        (">/dev/full", 2, "What was asked for cannot be written: No space left"),
    ],
)
def test_a_closed_stream_or_a_full_disk_ends_it_with_a_sentence_at_most(
    tmp_path: Path, streams: str, code: int, words: str
) -> None:
    """Closed before the start, as a scheduler may do it, or a file that takes no more: no
    traceback.
    """
    (tmp_path / "job.json").write_text(json.dumps(JOB), encoding="utf-8")
    job = "-" if streams == "<&-" else str(tmp_path / "job.json")
    line = ["bash", "-c", f"{sys.executable} -m fitcounter assess {job} {streams}"]
    done = subprocess.run(line, cwd=CHECKOUT, capture_output=True, text=True)

    assert (done.returncode, len(done.stderr.splitlines())) == (code, code // 2)
    assert done.stderr.startswith(words)


@pytest.mark.parametrize("arguments", [[], ["fly"], ["assess"], ["demo", "--wings"]])
def test_a_command_line_that_cannot_be_read_gets_exit_2_and_how_to_write_it(
    arguments: list[str],
) -> None:
    """argparse says the usage; nothing is set up for it."""
    answer = run(*arguments)

    assert answer.returncode == 2
    assert answer.stderr.startswith("usage: fitcounter")


def test_certificate_makes_shows_and_refuses(tmp_path: Path) -> None:
    """With names it makes the certificate, without it shows it; before there is one it says how."""
    data = ["--data", str(tmp_path / "shop")]

    none = run("certificate", *data)
    assert (none.returncode, none.stdout) == (2, "")
    assert "fitcounter certificate NAME" in none.stderr

    made = run("certificate", *data, "boots.local", "192.168.1.20", "--shop", "Bridge Street Boots")
    assert made.returncode == 0
    assert "boots.local, 192.168.1.20, localhost" in made.stdout
    assert run("certificate", *data).stdout == made.stdout

    wrong = run("certificate", *data, "https://boots.local")
    assert (wrong.returncode, len(wrong.stderr.splitlines())) == (2, 1)


def test_demo_opens_a_fresh_invented_shop_and_keeps_it_when_asked(tmp_path: Path) -> None:
    """Fresh each time in a folder of its own; with --keep as it was left.

    It answers at the printed address and stops on SIGTERM.
    """
    old, own = tmp_path / "demo" / "left-over", tmp_path / "shop.db"
    old.parent.mkdir()
    old.touch()
    own.write_text("the real shop", encoding="utf-8")

    loaded = run("demo", "--data", str(tmp_path), "--no-serve")
    assert loaded.returncode == 0, loaded.stderr
    assert "Sign in" in loaded.stdout
    assert not old.exists()
    assert own.read_text(encoding="utf-8") == "the real shop"

    old.touch()
    line = [sys.executable, "-u", "-m", "fitcounter", "demo", "--data", str(tmp_path), "--keep"]
    with subprocess.Popen(line, cwd=CHECKOUT, stdout=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None
        said = program.stdout.readline()
        with urllib.request.urlopen(re.findall(r"http://\S+", said)[0], timeout=20) as page:
            assert page.status == 200
        program.terminate()
        assert program.wait(timeout=20) == 0
    assert old.exists()


@pytest.mark.parametrize("argument", ["--port=99999", "--address=boots", "--certificate=only.crt"])
def test_serve_refuses_a_setting_that_cannot_be(tmp_path: Path, argument: str) -> None:
    """Exit 2 and one sentence, before anything is made."""
    answer = run("serve", "--data", str(tmp_path / "shop"), argument)

    assert (answer.returncode, answer.stdout, len(answer.stderr.splitlines())) == (2, "", 1)
    assert not (tmp_path / "shop").exists()


def test_test_passes_what_it_is_given_on_to_pytest() -> None:
    """`fitcounter test FILE -- OPTIONS` runs that file, and its exit code is pytest's."""
    good = run("test", "tests/test_settings.py", "--", "-k", "key_file", "-p", "no:randomly")
    assert good.returncode == 0, good.stdout
    assert "6 passed" in good.stdout

    assert run("test", "tests/no_such_file.py").returncode == pytest.ExitCode.USAGE_ERROR
