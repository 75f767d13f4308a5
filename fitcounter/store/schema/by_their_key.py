"""Readings and submissions kept in the order of what they are asked by: one tree in the file for
each table instead of a table and an index beside it, so a saved sheet writes three pages less.
"""

from __future__ import annotations

_GIRTH = """height_um INTEGER NOT NULL CHECK (height_um BETWEEN 0 AND 900000),
  height_text TEXT NOT NULL, girth_um INTEGER NOT NULL CHECK (girth_um BETWEEN 50000 AND 1300000),
  girth_text TEXT NOT NULL, unit TEXT NOT NULL"""
_READ = "repeat INTEGER NOT NULL, read_at TEXT NOT NULL, staff_id INTEGER"
# Conditions, not lists: see m0009_readings.
_MOMENT = "CHECK (moment = 'brought-in' OR moment = 'pickup' OR moment = 'comeback')"

_TABLES = {
    "leg_readings": f"""fit_id INTEGER NOT NULL REFERENCES fits(id),
  side TEXT NOT NULL CHECK (side = 'left' OR side = 'right'),
  moment TEXT NOT NULL DEFAULT 'brought-in' {_MOMENT}, station TEXT NOT NULL DEFAULT '',
  {_GIRTH}, {_READ}, PRIMARY KEY (fit_id, moment, side, height_um, repeat)""",
    "boot_readings": f"""item_id INTEGER NOT NULL REFERENCES items(id),
  moment TEXT NOT NULL {_MOMENT}, {_GIRTH}, method TEXT NOT NULL
  CHECK (method = 'inside' OR method = 'outside' OR method = 'flat'),
  {_READ}, PRIMARY KEY (item_id, moment, height_um, repeat)""",
    "submissions": """id TEXT NOT NULL CHECK (length(id) BETWEEN 8 AND 64) PRIMARY KEY,
  body_hash TEXT NOT NULL, result TEXT NOT NULL, at TEXT NOT NULL""",
}
_COLUMNS = {
    "leg_readings": "fit_id, side, moment, station, height_um, height_text, girth_um, girth_text,"
    " unit, repeat, read_at, staff_id",
    "boot_readings": "item_id, moment, height_um, height_text, girth_um, girth_text, unit, method,"
    " repeat, read_at, staff_id",
    "submissions": "id, body_hash, result, at",
}


def _anew(table: str) -> tuple[str, ...]:
    """The statements that bring a table's rows into the order of its key."""
    body, columns = _TABLES[table], _COLUMNS[table]
    return (
        f"CREATE TABLE {table}_new ({body}) STRICT, WITHOUT ROWID",
        f"INSERT INTO {table}_new ({columns}) SELECT {columns} FROM {table}",
        f"DROP TABLE {table}",
        f"ALTER TABLE {table}_new RENAME TO {table}",
    )


BY_THEIR_KEY = tuple(statement for table in _TABLES for statement in _anew(table))
