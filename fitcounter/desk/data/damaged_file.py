"""A damaged file, said in one sentence with what to do: at the start, and wherever it shows."""

from __future__ import annotations

from pathlib import Path

from fitcounter.desk.common.translation import say
from fitcounter.errors import Damaged
from fitcounter.store import backup, integrity
from fitcounter.store.database import Store


def shown_by(error: BaseException, store: Store | None = None) -> Damaged | None:
    """The error in our words where it comes from a damaged file, else None.

    store: where damage may show as any other error, the connection that it came from.
    """
    # what was said of the file in our words comes from SQLite's own error
    causes = (error, error.__cause__) if error.__cause__ else (error,)
    if any(map(integrity.is_of_damage, causes)) or (store is not None and integrity.damage(store)):
        return Damaged(sentence())
    return None


def sentence() -> str:
    """What is wrong, and the way back."""
    return say(
        "The shop’s data file is damaged. Stop the program, then bring back the last good copy with"
        " “fitcounter restore”, or with “fitcounter restore --off-site FOLDER” if you have an"
        " off-site copy."
    )


def look(data_dir: Path) -> None:
    """A quick look at every page of a shop that is there; changes nothing. Raises Damaged."""
    path = data_dir / backup.SHOP
    if not path.exists():
        return
    try:
        store = Store(path)
    except Exception as error:
        if shown_by(error) is None:
            raise
        raise Damaged(sentence()) from error
    try:
        if integrity.damage(store):
            raise Damaged(sentence())
    finally:
        store.close()
