"""Pairs, items, their tags, findings, photos and readings of legs and boots."""

from __future__ import annotations

from fitcounter.store.schema.ranges import GIRTH, SIDE

ITEMS = f"""
CREATE TABLE fits (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  unit TEXT NOT NULL DEFAULT 'in' CHECK (unit IN ('in', 'cm', 'mm')),
  posture TEXT NOT NULL DEFAULT 'standing' CHECK (posture IN ('standing', 'seated')),
  over TEXT NOT NULL DEFAULT 'skin',
  layer_um INTEGER NOT NULL DEFAULT 0 CHECK (layer_um BETWEEN 0 AND 20000),
  part_of_day TEXT NOT NULL DEFAULT 'evening' CHECK (part_of_day IN ('morning', 'midday',
  'evening')),
  marked INTEGER NOT NULL DEFAULT 0, on_block INTEGER NOT NULL DEFAULT 0,
  ease TEXT NOT NULL DEFAULT 'close' CHECK (ease IN ('snug', 'close', 'easy', 'roomy')),
  ease_um INTEGER CHECK (ease_um BETWEEN -50000 AND 100000),
  limits TEXT NOT NULL DEFAULT 'careful' CHECK (limits IN ('usual', 'careful')),
  hold_h INTEGER NOT NULL DEFAULT 168 CHECK (hold_h BETWEEN 12 AND 1000),
  max_rounds INTEGER NOT NULL DEFAULT 4 CHECK (max_rounds BETWEEN 1 AND 6),
  version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE INDEX fits_ticket ON fits(ticket_id);
CREATE TABLE items (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  fit_id INTEGER REFERENCES fits(id), letter TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('boot', 'shoe', 'bag', 'belt', 'glove', 'other')),
  side TEXT CHECK (side IN ('left', 'right')),
  work TEXT NOT NULL CHECK (work IN ('stretch', 'other')), description TEXT NOT NULL,
  jobs TEXT NOT NULL DEFAULT '',
  material TEXT NOT NULL DEFAULT 'unknown', lining TEXT NOT NULL DEFAULT 'none',
  age TEXT NOT NULL DEFAULT 'sound' CHECK (age IN ('sound', 'dry-or-old')),
  signed_off INTEGER NOT NULL DEFAULT 0,
  thickness_um INTEGER NOT NULL DEFAULT 1400 CHECK (thickness_um BETWEEN 0 AND 8000),
  lining_um INTEGER NOT NULL DEFAULT 800 CHECK (lining_um BETWEEN 0 AND 8000),
  wall_um INTEGER NOT NULL DEFAULT 2200 CHECK (wall_um BETWEEN 0 AND 15000),
  closure TEXT NOT NULL DEFAULT 'zip' CHECK (closure IN ('zip', 'pull-on', 'laces', 'straps')),
  zip TEXT NOT NULL DEFAULT '', elastic TEXT NOT NULL DEFAULT '', rigid TEXT NOT NULL DEFAULT '[]',
  throat_um INTEGER,
  heel_um INTEGER, method TEXT NOT NULL DEFAULT 'inside' CHECK (method IN ('inside', 'outside',
  'flat')),
  heights_from TEXT NOT NULL DEFAULT 'heel-seat' CHECK (heights_from IN ('heel-seat', 'ground',
  'top-line')),
  seat_um INTEGER NOT NULL DEFAULT 0, shaft_um INTEGER NOT NULL DEFAULT 0,
  rise_um INTEGER NOT NULL DEFAULT 0,
  mark_um INTEGER, target TEXT NOT NULL DEFAULT 'leg' CHECK (target IN ('leg', 'gap', 'amount',
  'safe')),
  state TEXT NOT NULL, state_before TEXT NOT NULL DEFAULT '', waits_for TEXT NOT NULL DEFAULT '',
  since TEXT NOT NULL,
  shelf TEXT NOT NULL DEFAULT '', shaper TEXT NOT NULL DEFAULT '', promised_day TEXT,
  after_item_id INTEGER REFERENCES items(id), after_what TEXT NOT NULL DEFAULT '',
  tried_on TEXT NOT NULL DEFAULT '' CHECK (tried_on IN ('', 'fits', 'snug')),
  note TEXT NOT NULL DEFAULT '', version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE INDEX items_ticket ON items(ticket_id);
CREATE INDEX items_fit ON items(fit_id);
CREATE INDEX items_state ON items(state) WHERE state NOT IN ('out', 'closed');
CREATE TABLE tags (
  id INTEGER PRIMARY KEY, code TEXT NOT NULL UNIQUE, number INTEGER,
  side TEXT CHECK (side IN ('left', 'right')), item_id INTEGER REFERENCES items(id),
  tree_id INTEGER REFERENCES trees(id), printed_at TEXT NOT NULL, bound_at TEXT, died_at TEXT,
  replaced_by INTEGER REFERENCES tags(id)) STRICT;
CREATE INDEX tags_item ON tags(item_id);
CREATE INDEX tags_number ON tags(number);
CREATE TABLE findings (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id),
  moment TEXT NOT NULL CHECK (moment IN ('before', 'round', 'after')), round_n INTEGER,
  word TEXT NOT NULL, place TEXT NOT NULL DEFAULT '', note TEXT NOT NULL DEFAULT '',
  seen_at TEXT NOT NULL, staff_id INTEGER) STRICT;
CREATE INDEX findings_item ON findings(item_id);
CREATE TABLE photos (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  item_id INTEGER REFERENCES items(id),
  moment TEXT NOT NULL CHECK (moment IN ('before', 'round', 'after', 'scan', 'slip')),
  round_n INTEGER, file TEXT NOT NULL UNIQUE, width_px INTEGER NOT NULL, height_px INTEGER NOT NULL,
  bytes INTEGER NOT NULL, content_hash TEXT NOT NULL,
  taken_at TEXT NOT NULL, staff_id INTEGER, erased_at TEXT) STRICT;
CREATE INDEX photos_item ON photos(item_id);
CREATE INDEX photos_ticket ON photos(ticket_id);
CREATE TABLE leg_readings (
  id INTEGER PRIMARY KEY, fit_id INTEGER NOT NULL REFERENCES fits(id), side TEXT NOT NULL {SIDE},
  moment TEXT NOT NULL DEFAULT 'brought-in' CHECK (moment IN ('brought-in', 'pickup', 'comeback')),
  station TEXT NOT NULL DEFAULT '',
  height_um INTEGER NOT NULL CHECK (height_um BETWEEN 0 AND 900000), height_text TEXT NOT NULL,
  girth_um INTEGER NOT NULL CHECK (girth_um {GIRTH}), girth_text TEXT NOT NULL, unit TEXT NOT NULL,
  repeat INTEGER NOT NULL, read_at TEXT NOT NULL, staff_id INTEGER,
  UNIQUE (fit_id, side, moment, height_um, repeat)) STRICT;
CREATE TABLE gap_readings (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id),
  kind TEXT NOT NULL CHECK (kind IN ('gap', 'amount')),
  height_um INTEGER NOT NULL CHECK (height_um BETWEEN 0 AND 900000), height_text TEXT NOT NULL,
  gap_um INTEGER NOT NULL CHECK (gap_um BETWEEN 0 AND 400000),
  gap_text TEXT NOT NULL, unit TEXT NOT NULL, read_at TEXT NOT NULL, staff_id INTEGER,
  UNIQUE (item_id, kind, height_um)) STRICT;
CREATE TABLE boot_readings (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id),
  moment TEXT NOT NULL CHECK (moment IN ('brought-in', 'pickup', 'comeback')),
  height_um INTEGER NOT NULL CHECK (height_um BETWEEN 0 AND 900000), height_text TEXT NOT NULL,
  girth_um INTEGER NOT NULL CHECK (girth_um {GIRTH}), girth_text TEXT NOT NULL,
  unit TEXT NOT NULL, method TEXT NOT NULL CHECK (method IN ('inside', 'outside', 'flat')),
  repeat INTEGER NOT NULL, read_at TEXT NOT NULL, staff_id INTEGER,
  UNIQUE (item_id, moment, height_um, repeat)) STRICT;
"""
