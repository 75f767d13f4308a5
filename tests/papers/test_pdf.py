"""The press says in one sentence what it lacks, fetches nothing, and never takes the program down
with it.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from support.paths import CHECKOUT

from fitcounter.papers import pdf as papers_pdf

PRINT_A_TAG = """
import sys
from fitcounter.errors import Unavailable
from fitcounter.papers.pdf import ready
from fitcounter.papers.records import Letterhead, TagLabel, TagSheet
from fitcounter.papers.tag import tags
label = TagLabel("41", "7K3M9QXWE", "https://b.example/t/7K3M9QXWE", "left")
sheet = TagSheet(Letterhead("שלום 中文 Bench", "555 0142"), (label,))
try:
    pdf = tags(sheet)
except Unavailable as why:
    print("UNAVAILABLE", why.sentence)
    assert ready() == why.sentence
else:
    print("PDF", len(pdf), pdf[:5])
"""


def run(code: str, folder: Path = CHECKOUT, **environment: str) -> subprocess.CompletedProcess[str]:
    """A fresh Python with this code and these environment variables."""
    return subprocess.run(
        [sys.executable, "-c", code],
        cwd=folder,
        env=os.environ | environment,
        capture_output=True,
        text=True,
        timeout=60,
    )


def test_ready_where_all_is_there():
    """Here, where the tests run, nothing is missing."""
    assert papers_pdf.ready() is None


@pytest.mark.parametrize("library", ["libpango-1.0.so.0", "libpangoft2-1.0.so.0"])
@pytest.mark.skipif(
    sys.platform != "linux",
    reason="puts a broken library in the loader's way as Linux looks for it",
)
def test_a_missing_library_is_a_sentence(tmp_path, library):
    """Without Pango the paper is refused with the line to type, and the program goes on."""
    (tmp_path / library).write_bytes(b"not a library")
    result = run(PRINT_A_TAG, LD_LIBRARY_PATH=str(tmp_path))
    assert result.returncode == 0, result.stderr
    assert result.stdout.startswith("UNAVAILABLE PDFs need the library Pango")
    assert "apt-get install" in result.stdout


@pytest.mark.parametrize("damage", ["gone", "short", "other", "list"])
def test_damaged_letters_are_a_sentence(tmp_path, damage):
    """Missing, cut or exchanged letters are noticed before the library is asked, which could not
    survive them.
    """
    for folder in ("fitcounter", "templates/papers", "static"):
        shutil.copytree(CHECKOUT / folder, tmp_path / folder)
    fonts = tmp_path / "static" / "fonts"
    if damage == "gone":
        shutil.rmtree(fonts)
    elif damage == "list":
        (fonts / "SHA256SUMS").write_text("what is this\n")
    elif damage == "short":
        path = fonts / "SourceSerif4-Bold.ttf"
        path.write_bytes(path.read_bytes()[:20_000])
    else:
        (fonts / "SourceSans3-Bold.ttf").write_bytes(b"\0" * 1000)
    result = run(PRINT_A_TAG, tmp_path)
    assert result.returncode == 0, result.stderr
    assert result.stdout.startswith(
        "UNAVAILABLE The letters for printing are missing or damaged: put static/fonts/"
    )


def test_a_machine_without_any_font_prints_with_our_own(tmp_path):
    """With no font installed at all, also not for a Hebrew and a Chinese name, a PDF comes out and
    nothing crashes.
    """
    config = tmp_path / "fonts.conf"
    config.write_text(
        '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd"><fontconfig/>'
    )
    result = run(
        PRINT_A_TAG,
        FONTCONFIG_FILE=str(config),
        PYTHONWARNINGS="ignore",
        XDG_CACHE_HOME=str(tmp_path),
    )
    assert result.returncode == 0, (result.returncode, result.stderr)
    assert result.stdout.startswith("PDF ")


def test_the_press_is_loaded_only_when_a_paper_is_printed():
    """Importing every other module of papers loads neither the PDF library nor those for pictures
    and codes.
    """
    in_own_process = {"pdf_writer", "photo_writer", "qr_modules", "holiday_library"}
    modules = {path.stem for path in (CHECKOUT / "fitcounter" / "papers").glob("*.py")}
    assert in_own_process < modules
    modules -= in_own_process
    code = "import sys\n" + "\n".join(
        f"import fitcounter.papers.{name}" for name in sorted(modules) if name != "__init__"
    )
    result = run(
        code + "\nprint(sorted({'weasyprint', 'PIL', 'qrcode', 'holidays'} & set(sys.modules)))"
    )
    assert result.stdout.strip() == "[]", result.stdout + result.stderr
