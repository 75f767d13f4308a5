"""`demo` and `serve` as processes."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import urllib.error
import urllib.request
from pathlib import Path

import pytest
from support.command import run
from support.paths import CHECKOUT

from fitcounter.serving.server import free_port
from fitcounter.store import open_files
from fitcounter.store.database import Store
from fitcounter.store.integrity import READING
from fitcounter.store.opening import is_behind, open_store


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


def test_a_file_of_an_older_program_is_brought_up_to_date_and_then_served(tmp_path: Path) -> None:
    """What answers meanwhile hands the same port over."""
    open_store(tmp_path / "shop.db").close()
    behind = Store(tmp_path / "shop.db")
    behind.db.execute("DROP TABLE undos")
    behind.db.execute("DELETE FROM _sqlite_migrations WHERE name = 'm0002_undos'")
    behind.close()
    port = free_port("127.0.0.1", 0)
    line = [*(sys.executable, "-u", "-m", "fitcounter", "serve"), *("--data", str(tmp_path))]
    with subprocess.Popen(
        [*line, "--port", str(port)], cwd=CHECKOUT, stdout=subprocess.PIPE, text=True
    ) as program:
        assert program.stdout is not None
        assert "This program is newer than the shop’s file" in program.stdout.readline()
        assert "The shop is open at" in program.stdout.readline()
        with urllib.request.urlopen(f"http://localhost:{port}/sign-in", timeout=20) as page:
            assert page.status == 200
        program.terminate()
        assert program.wait(timeout=20) == 0
    assert not is_behind(tmp_path / "shop.db")


def test_while_a_copy_is_restored_a_page_says_so_and_then_the_shop_opens(tmp_path: Path) -> None:
    """What is asked for at the door meanwhile is answered, not refused."""
    open_store(tmp_path / "shop.db").close()
    port = free_port("127.0.0.1", 0)
    line = [*(sys.executable, "-u", "-m", "fitcounter", "serve"), *("--data", str(tmp_path))]
    with open_files.shut(tmp_path / "shop.db"):
        (tmp_path / open_files.LOCK).write_text(json.dumps([READING, 40]), encoding="utf-8")
        program = subprocess.Popen(
            [*line, "--port", str(port)], cwd=CHECKOUT, stdout=subprocess.PIPE, text=True
        )
        assert program.stdout is not None
        assert "A copy is being restored." in program.stdout.readline()
        with pytest.raises(urllib.error.HTTPError) as waits:
            urllib.request.urlopen(f"http://localhost:{port}/", timeout=20)
        assert waits.value.code == 503
        assert b"Reading it to its end: 40 of 100" in waits.value.read()
    with program:
        assert "The shop is open at" in program.stdout.readline()
        with urllib.request.urlopen(f"http://localhost:{port}/sign-in", timeout=20) as page:
            assert page.status == 200
        program.terminate()
        assert program.wait(timeout=20) == 0
