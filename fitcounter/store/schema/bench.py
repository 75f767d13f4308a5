"""Rounds, trees and their bookings, steps and incidents."""

from __future__ import annotations

from fitcounter.store.schema.ranges import GIRTH

BENCH = f"""
CREATE TABLE rounds (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id),
  n INTEGER NOT NULL CHECK (n BETWEEN 1 AND 40),
  method TEXT NOT NULL DEFAULT 'outside' CHECK (method IN ('inside', 'outside', 'flat')),
  mark_um INTEGER, prepared TEXT NOT NULL DEFAULT 'dry' CHECK (prepared IN ('dry', 'conditioned')),
  prepared_with TEXT NOT NULL DEFAULT '', prepared_at TEXT, tree_id INTEGER REFERENCES trees(id),
  pads TEXT NOT NULL DEFAULT '',
  before_um INTEGER CHECK (before_um {GIRTH}), before_text TEXT NOT NULL DEFAULT '',
  before_unit TEXT NOT NULL DEFAULT 'in', on_at TEXT, due_off_at TEXT, off_at TEXT,
  came_out TEXT NOT NULL DEFAULT '' CHECK (came_out IN ('', 'dropped', 'eased', 'gripped')),
  just_off_um INTEGER CHECK (just_off_um {GIRTH}), just_off_text TEXT NOT NULL DEFAULT '',
  rested_um INTEGER CHECK (rested_um {GIRTH}), rested_text TEXT NOT NULL DEFAULT '',
  rested_unit TEXT NOT NULL DEFAULT 'in', rested_method TEXT NOT NULL DEFAULT '', rested_at TEXT,
  rested_counts INTEGER NOT NULL DEFAULT 1, override_why TEXT NOT NULL DEFAULT '',
  outcome TEXT NOT NULL DEFAULT '', version INTEGER NOT NULL DEFAULT 1, UNIQUE (item_id, n)) STRICT;
CREATE TABLE turns (
  id INTEGER PRIMARY KEY, round_id INTEGER NOT NULL REFERENCES rounds(id), n INTEGER NOT NULL,
  at TEXT NOT NULL, girth_um INTEGER CHECK (girth_um {GIRTH}),
  girth_text TEXT NOT NULL DEFAULT '', unit TEXT NOT NULL DEFAULT 'in',
  setting_text TEXT NOT NULL DEFAULT '',
  setting_milli INTEGER CHECK (setting_milli BETWEEN 0 AND 1000000),
  staff_id INTEGER, UNIQUE (round_id, n)) STRICT;
CREATE TABLE trees (
  id INTEGER PRIMARY KEY, label TEXT NOT NULL UNIQUE,
  side TEXT NOT NULL CHECK (side IN ('left', 'right', 'either')),
  size TEXT NOT NULL DEFAULT '' CHECK (size IN ('', 'S', 'M', 'L')),
  closed_um INTEGER CHECK (closed_um {GIRTH}), open_um INTEGER CHECK (open_um {GIRTH}),
  closed_setting_milli INTEGER NOT NULL DEFAULT 0, open_setting_milli INTEGER,
  setting_word TEXT NOT NULL DEFAULT 'turns',
  state TEXT NOT NULL DEFAULT 'sound' CHECK (state IN ('sound', 'repair', 'retired')),
  note TEXT NOT NULL DEFAULT '', version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE TABLE tree_calibration (
  id INTEGER PRIMARY KEY, tree_id INTEGER NOT NULL REFERENCES trees(id),
  setting_milli INTEGER NOT NULL, height_um INTEGER NOT NULL,
  girth_um INTEGER NOT NULL CHECK (girth_um {GIRTH}),
  pads TEXT NOT NULL DEFAULT '', source TEXT NOT NULL CHECK (source IN ('bare', 'on-boot')),
  read_at TEXT NOT NULL, staff_id INTEGER) STRICT;
CREATE INDEX tree_calibration_tree ON tree_calibration(tree_id);
CREATE TABLE bookings (
  id INTEGER PRIMARY KEY, tree_id INTEGER NOT NULL REFERENCES trees(id),
  item_id INTEGER REFERENCES items(id), words TEXT NOT NULL DEFAULT '',
  kind TEXT NOT NULL CHECK (kind IN ('running', 'planned', 'slot')),
  round_n INTEGER, from_day TEXT NOT NULL, to_day TEXT NOT NULL, CHECK (from_day < to_day)) STRICT;
CREATE INDEX bookings_tree ON bookings(tree_id, from_day);
CREATE INDEX bookings_item ON bookings(item_id);
CREATE TRIGGER bookings_no_overlap BEFORE INSERT ON bookings
WHEN EXISTS (SELECT 1 FROM bookings b WHERE b.tree_id = NEW.tree_id AND b.from_day < NEW.to_day
  AND NEW.from_day < b.to_day)
BEGIN SELECT RAISE(ABORT, 'tree is booked'); END;
CREATE TRIGGER bookings_no_overlap_update BEFORE UPDATE ON bookings
WHEN EXISTS (SELECT 1 FROM bookings b WHERE b.id <> NEW.id AND b.tree_id = NEW.tree_id
  AND b.from_day < NEW.to_day AND NEW.from_day < b.to_day)
BEGIN SELECT RAISE(ABORT, 'tree is booked'); END;
CREATE TABLE closures (id INTEGER PRIMARY KEY, from_day TEXT NOT NULL, to_day TEXT NOT NULL,
  why TEXT NOT NULL DEFAULT '', kind TEXT NOT NULL CHECK (kind IN ('closed', 'bench-away'))) STRICT;
CREATE TABLE steps (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id), step TEXT NOT NULL,
  happened_at TEXT NOT NULL, saved_at TEXT NOT NULL, staff_id INTEGER,
  recorded INTEGER NOT NULL DEFAULT 1 CHECK (recorded IN (0, 1)), from_state TEXT NOT NULL,
  to_state TEXT NOT NULL, detail TEXT NOT NULL DEFAULT '{{}}', undone_at TEXT) STRICT;
CREATE INDEX steps_item ON steps(item_id);
CREATE TABLE incidents (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id), opened_at TEXT NOT NULL,
  what TEXT NOT NULL, where_on TEXT NOT NULL DEFAULT '', told_at TEXT,
  agreed TEXT NOT NULL DEFAULT '',
  settled_at TEXT, staff_id INTEGER, version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE INDEX incidents_item ON incidents(item_id);
"""
