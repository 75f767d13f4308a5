"""The bench's own rows as records, as in `records`."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Calibration:
    """A girth of a tree at a setting: of the bare tree, or inside a boot that was on it."""

    id: int
    tree_id: int
    setting_milli: int
    height_um: int
    girth_um: int
    pads: str
    source: str
    read_at: str
    staff_id: int | None


@dataclass(frozen=True, slots=True)
class Closure:
    """Days without anybody at the bench, both ends included. kind: 'closed' or 'bench-away'."""

    id: int
    from_day: str
    to_day: str
    why: str
    kind: str


@dataclass(frozen=True, slots=True)
class Incident:
    id: int
    item_id: int
    opened_at: str
    what: str
    where_on: str
    told_at: str | None
    agreed: str
    settled_at: str | None
    staff_id: int | None
    version: int
