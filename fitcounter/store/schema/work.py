"""The shop's list of work with its prices, and jobs from it on boots that are here anyway."""

from __future__ import annotations

# code: of our own list, "" for the owner's own entries. answer: what is said of work that the shop
# does not do. size_minor: for each whole inch or centimeter of size, as the shop measures.
WORK = (
    "CREATE TABLE price_list (id INTEGER PRIMARY KEY, code TEXT NOT NULL DEFAULT '', what TEXT NOT"
    " NULL DEFAULT '', price_minor INTEGER CHECK (price_minor BETWEEN 0 AND 100000000), size_minor"
    " INTEGER NOT NULL DEFAULT 0 CHECK (size_minor BETWEEN 0 AND 100000000), days INTEGER NOT NULL"
    " DEFAULT 0 CHECK (days BETWEEN 0 AND 30), timing TEXT NOT NULL DEFAULT 'any' CHECK (timing ="
    " 'before' OR timing = 'any' OR timing = 'after' OR timing = 'last'), taxable INTEGER NOT NULL"
    " DEFAULT 1 CHECK (taxable = 0 OR taxable = 1), answer TEXT NOT NULL DEFAULT '', offered"
    " INTEGER NOT NULL DEFAULT 1 CHECK (offered = 0 OR offered = 1), version INTEGER NOT NULL"
    " DEFAULT 1) STRICT",
    "CREATE UNIQUE INDEX price_list_code ON price_list(code) WHERE code <> ''",
    "CREATE TABLE works (id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),"
    " what TEXT NOT NULL, timing TEXT NOT NULL CHECK (timing = 'before' OR timing = 'any' OR"
    " timing = 'after' OR timing = 'last'), days INTEGER NOT NULL DEFAULT 0, amount_minor INTEGER"
    " NOT NULL DEFAULT 0 CHECK (amount_minor BETWEEN 0 AND 100000000), taxable INTEGER NOT NULL"
    " DEFAULT 1, line_id INTEGER REFERENCES price_lines(id) ON DELETE SET NULL, answer TEXT NOT"
    " NULL DEFAULT '', asked_at TEXT NOT NULL, staff_id INTEGER, version INTEGER NOT NULL DEFAULT"
    " 1) STRICT",
    "CREATE INDEX works_ticket ON works(ticket_id)",
    "CREATE INDEX works_line ON works(line_id) WHERE line_id IS NOT NULL",
    "CREATE TABLE work_lines (id INTEGER PRIMARY KEY, work_id INTEGER NOT NULL REFERENCES"
    " works(id), item_id INTEGER NOT NULL REFERENCES items(id), state TEXT NOT NULL DEFAULT"
    " 'waiting' CHECK (state = 'waiting' OR state = 'working' OR state = 'done' OR state ="
    " 'not-done'), note TEXT NOT NULL DEFAULT '', since TEXT NOT NULL, staff_id INTEGER, UNIQUE"
    " (work_id, item_id)) STRICT",
    "CREATE INDEX work_lines_item ON work_lines(item_id)",
    "CREATE INDEX work_lines_open ON work_lines(item_id) WHERE state = 'waiting' OR state ="
    " 'working'",
)
