"""Two people who changed the same record: field by field, so that nobody's text is lost."""

from __future__ import annotations

from collections.abc import Mapping


def merged(
    was: Mapping[str, str],
    theirs: Mapping[str, str],
    mine: Mapping[str, str],
    long: tuple[str, ...],
) -> tuple[dict[str, str], list[str]]:
    """What I changed, put over what stands now; and the fields that both of us changed to
    something else.

    was: as I saw it; theirs: as it stands. long: fields of free text, where both texts are kept.
    """
    changed: dict[str, str] = {}
    both = []
    for name, text in mine.items():
        before, now = was.get(name, text), theirs.get(name, "")
        if text in (before, now):
            continue
        if now == before:
            changed[name] = text
        elif name in long:
            changed[name] = both_texts(before, now, text)
        else:
            changed[name] = text
            both.append(name)
    return changed, both


def both_texts(was: str, theirs: str, mine: str) -> str:
    """Theirs with what I added to the text I saw; both whole, where I changed more than its end."""
    added = mine.removeprefix(was) if mine.startswith(was) else mine
    added = added.strip()
    return theirs if added in theirs else f"{theirs}\n{added}".strip()
