"""What the set-up says on the terminal, and how it ends when it cannot go on."""

from __future__ import annotations

import json
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Mapping, Sequence
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import IO, NoReturn

CANNOT_GO_ON = 3
LANGUAGES = Path(__file__).resolve().parents[1] / "desk" / "languages"
_ENTRY = re.compile(r'^msgid (".*")\nmsgstr (".*")$', re.MULTILINE)


def run(line: Sequence[str], sentence: str) -> None:
    """Run a program to its end; where it fails, say the sentence, name the log and end. Raises
    SystemExit(3).
    """
    if quietly(line):
        stop("{problem} Details: {log}", problem=translated(sentence), log=log_file())


def quietly(line: Sequence[str]) -> int:
    """The exit code of a program whose every word goes to the log of this set-up."""
    with _open_log() as log:
        log.write(f"$ {shlex.join(line)}\n")
        log.flush()
        return subprocess.run(line, stdout=log, stderr=subprocess.STDOUT).returncode


def log_file() -> Path:
    """Where the noise of this set-up is (XDG Base Directory, 0.8)."""
    home = Path(os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state")
    return home / "fitcounter" / "set-up.log"


def begin_log() -> None:
    """Empty the log: it tells of one set-up, the last."""
    with suppress(OSError):
        log_file().unlink(missing_ok=True)


def _open_log() -> IO[str]:
    """The log to write on; where that cannot be, nowhere."""
    try:
        log_file().parent.mkdir(parents=True, exist_ok=True)
        return log_file().open("a", encoding="utf-8")
    except OSError:
        return Path(os.devnull).open("a", encoding="utf-8")


def say(sentence: str, **values: object) -> None:
    """Write a sentence to standard error, at once, in the language of this terminal; its {values}
    are put in.
    """
    print(translated(sentence).format(**values), file=sys.stderr, flush=True)


def stop(sentence: str, **values: object) -> NoReturn:
    """Say a sentence and end. Raises SystemExit(3)."""
    say(sentence, **values)
    raise SystemExit(CANNOT_GO_ON)


def marked(sentence: str) -> str:
    """The sentence as it is: found for the catalogue here, and said where it is used."""
    return sentence


def translated(sentence: str) -> str:
    """The sentence in the language of this terminal; the English one where it has no catalogue.

    The program's own reader of catalogues is a package that is not there yet.
    """
    return _catalogue(_language(os.environ)).get(sentence, sentence)


def _language(environ: Mapping[str, str]) -> str:
    """Two or three letters; "" where the terminal does not say (POSIX.1-2017, 8.2)."""
    said = environ.get("LC_ALL") or environ.get("LC_MESSAGES") or environ.get("LANG") or ""
    code = said.partition(".")[0].partition("_")[0]
    return code if re.fullmatch("[a-z]{2,3}", code) else ""


@cache
def _catalogue(code: str) -> dict[str, str]:
    """English sentence and what is said for it, of those with one form."""
    try:
        text = (LANGUAGES / f"{code}.po").read_text(encoding="utf-8")
    except OSError:
        return {}
    return {json.loads(one): json.loads(said) for one, said in _ENTRY.findall(text)}
