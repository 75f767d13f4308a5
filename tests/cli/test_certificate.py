"""`certificate` as a process."""

from __future__ import annotations

from pathlib import Path

from support.command import run


def test_certificate_makes_shows_and_refuses(tmp_path: Path) -> None:
    """With names it makes the certificate, without it shows it; before there is one it says how."""
    data = ["--data", str(tmp_path / "shop")]

    none = run("certificate", *data)
    assert (none.returncode, none.stdout) == (2, "")
    assert "fitcounter certificate NAME" in none.stderr

    made = run("certificate", *data, "boots.local", "192.168.1.20", "--shop", "Bridge Street Boots")
    assert made.returncode == 0
    assert "boots.local, 192.168.1.20, and localhost" in made.stdout
    assert run("certificate", *data).stdout == made.stdout

    wrong = run("certificate", *data, "https://boots.local")
    assert (wrong.returncode, len(wrong.stderr.splitlines())) == (2, 1)
