"""Calls, wearing-in calendars, follow-ups, comebacks, predictions, erasures and copies."""

from __future__ import annotations

AFTERCARE = """
CREATE TABLE calls (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id), at TEXT NOT NULL,
  about TEXT NOT NULL, how TEXT NOT NULL CHECK (how IN ('called', 'left-word', 'no-answer', 'text',
  'e-mail', 'letter')),
  again_day TEXT, staff_id INTEGER, note TEXT NOT NULL DEFAULT '') STRICT;
CREATE INDEX calls_ticket ON calls(ticket_id);
CREATE TABLE wear_plans (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL UNIQUE REFERENCES tickets(id),
  zone TEXT NOT NULL, hour INTEGER NOT NULL CHECK (hour BETWEEN 0 AND 23),
  minute INTEGER NOT NULL DEFAULT 0 CHECK (minute BETWEEN 0 AND 59),
  preset TEXT NOT NULL, rest_from TEXT NOT NULL CHECK (rest_from IN ('start', 'end')),
  rules TEXT NOT NULL, picked_up_at TEXT NOT NULL, off_tree_at TEXT NOT NULL,
  ordinary_from TEXT NOT NULL, sequence INTEGER NOT NULL DEFAULT 0,
  language TEXT NOT NULL DEFAULT 'en', version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE TABLE wears (
  id INTEGER PRIMARY KEY, plan_id INTEGER NOT NULL REFERENCES wear_plans(id),
  position INTEGER NOT NULL, n INTEGER NOT NULL, start_at TEXT NOT NULL, end_at TEXT NOT NULL,
  minutes INTEGER NOT NULL, local_day TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('planned', 'worn', 'missed', 'moved', 'off')),
  actual_start_at TEXT, actual_minutes INTEGER,
  UNIQUE (plan_id, position)) STRICT;
CREATE TABLE follow_ups (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  item_id INTEGER REFERENCES items(id), due_day TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('after-pickup', 'not-right', 'overlong', 'other')),
  side TEXT CHECK (side IN ('left', 'right')), place TEXT NOT NULL DEFAULT '',
  said TEXT NOT NULL DEFAULT '', answer TEXT NOT NULL DEFAULT '', done_at TEXT,
  staff_id INTEGER) STRICT;
CREATE INDEX follow_ups_due ON follow_ups(due_day) WHERE done_at IS NULL;
CREATE INDEX follow_ups_ticket ON follow_ups(ticket_id);
CREATE TABLE comebacks (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  item_id INTEGER NOT NULL REFERENCES items(id), at TEXT NOT NULL, said TEXT NOT NULL DEFAULT '',
  answer TEXT NOT NULL DEFAULT '',
  boot_change_um INTEGER, leg_change_um INTEGER, under_guarantee INTEGER NOT NULL DEFAULT 0) STRICT;
CREATE INDEX comebacks_item ON comebacks(item_id);
CREATE TABLE predictions (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id), made_at TEXT NOT NULL,
  assessment TEXT NOT NULL, tier TEXT NOT NULL, likely INTEGER, eight_in_ten INTEGER,
  kept_mean REAL, hope_day TEXT, promise_day TEXT) STRICT;
CREATE INDEX predictions_item ON predictions(item_id);
CREATE TABLE erasures (id INTEGER PRIMARY KEY, customer_id INTEGER NOT NULL,
  at TEXT NOT NULL) STRICT;
CREATE TABLE backups (id INTEGER PRIMARY KEY, at TEXT NOT NULL, file TEXT NOT NULL,
  content_hash TEXT NOT NULL, verified_at TEXT) STRICT;
"""
