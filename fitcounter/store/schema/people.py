"""Settings, staff, phones, sessions, submissions, the audit and drafts."""

from __future__ import annotations

PEOPLE = """
CREATE TABLE settings (key TEXT PRIMARY KEY, value TEXT NOT NULL,
  version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE TABLE staff (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL, initials TEXT NOT NULL UNIQUE,
  role TEXT NOT NULL CHECK (role IN ('counter', 'bench', 'owner')),
  passphrase_hash TEXT, pin_hash TEXT, active INTEGER NOT NULL DEFAULT 1 CHECK (active IN (0, 1)),
  created_at TEXT NOT NULL, version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE TABLE phones (
  id INTEGER PRIMARY KEY, label TEXT NOT NULL, secret_hash TEXT UNIQUE, enrol_hash TEXT UNIQUE,
  enrol_until TEXT,
  enrolled_at TEXT, enrolled_by INTEGER REFERENCES staff(id), last_seen_at TEXT,
  struck_at TEXT) STRICT;
CREATE TABLE sessions (
  id INTEGER PRIMARY KEY, token_hash TEXT NOT NULL UNIQUE,
  staff_id INTEGER NOT NULL REFERENCES staff(id),
  phone_id INTEGER REFERENCES phones(id), started_at TEXT NOT NULL, seen_at TEXT NOT NULL,
  ends_at TEXT NOT NULL,
  ended_at TEXT) STRICT;
CREATE TABLE throttle (key TEXT PRIMARY KEY, failures INTEGER NOT NULL,
  next_at TEXT NOT NULL) STRICT;
CREATE TABLE submissions (
  id TEXT PRIMARY KEY CHECK (length(id) BETWEEN 8 AND 64), body_hash TEXT NOT NULL,
  result TEXT NOT NULL, at TEXT NOT NULL) STRICT;
CREATE TABLE audit (
  id INTEGER PRIMARY KEY, at TEXT NOT NULL, staff_id INTEGER, phone_id INTEGER, what TEXT NOT NULL,
  ticket_id INTEGER, item_id INTEGER,
  detail TEXT NOT NULL, previous_hash TEXT NOT NULL, hash TEXT NOT NULL UNIQUE) STRICT;
CREATE TRIGGER audit_no_update BEFORE UPDATE ON audit
  BEGIN SELECT RAISE(ABORT, 'audit rows are never changed'); END;
CREATE TRIGGER audit_no_delete BEFORE DELETE ON audit
  BEGIN SELECT RAISE(ABORT, 'audit rows are never removed'); END;
CREATE TABLE drafts (
  id TEXT PRIMARY KEY, kind TEXT NOT NULL, form TEXT NOT NULL, words TEXT NOT NULL,
  staff_id INTEGER, updated_at TEXT NOT NULL) STRICT;
"""
