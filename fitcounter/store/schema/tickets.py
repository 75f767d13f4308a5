"""Customers, tickets, prices, payments and what was agreed."""

from __future__ import annotations

TICKETS = """
CREATE TABLE customers (
  id INTEGER PRIMARY KEY, name TEXT NOT NULL, name_key TEXT NOT NULL,
  phone_typed TEXT NOT NULL DEFAULT '', phone_e164 TEXT NOT NULL DEFAULT '',
  phone_last4 TEXT NOT NULL DEFAULT '', email TEXT NOT NULL DEFAULT '',
  language TEXT NOT NULL DEFAULT 'en', note TEXT NOT NULL DEFAULT '',
  created_at TEXT NOT NULL, erased_at TEXT, version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE INDEX customers_name ON customers(name_key);
CREATE INDEX customers_last4 ON customers(phone_last4);
CREATE INDEX customers_e164 ON customers(phone_e164);
CREATE TABLE tickets (
  id INTEGER PRIMARY KEY, number INTEGER NOT NULL CHECK (number BETWEEN 1 AND 9999),
  customer_id INTEGER NOT NULL REFERENCES customers(id),
  opened_at TEXT NOT NULL, needed_by TEXT, hope_day TEXT, promise_day TEXT, pickup_day TEXT,
  worn_with TEXT NOT NULL DEFAULT '',
  price_kind TEXT NOT NULL DEFAULT 'quote' CHECK (price_kind IN ('estimate', 'quote')),
  currency TEXT NOT NULL CHECK (length(currency) = 3),
  tax_basis_points INTEGER NOT NULL DEFAULT 0 CHECK (tax_basis_points BETWEEN 0 AND 5000),
  tax_included INTEGER NOT NULL DEFAULT 0 CHECK (tax_included IN (0, 1)),
  rounds_included INTEGER NOT NULL DEFAULT 2,
  note TEXT NOT NULL DEFAULT '',
  state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'out', 'closed')),
  come_twice INTEGER NOT NULL DEFAULT 0, handed_over_at TEXT, collected_by TEXT NOT NULL DEFAULT '',
  guarantee_end TEXT,
  link_hash TEXT UNIQUE, link_until TEXT, link_revoked_at TEXT,
  returns_ticket_id INTEGER REFERENCES tickets(id),
  version INTEGER NOT NULL DEFAULT 1) STRICT;
CREATE UNIQUE INDEX tickets_number_open ON tickets(number) WHERE state = 'open';
CREATE INDEX tickets_number ON tickets(number);
CREATE INDEX tickets_customer ON tickets(customer_id);
CREATE INDEX tickets_open ON tickets(promise_day) WHERE state = 'open';
CREATE INDEX tickets_guarantee ON tickets(guarantee_end) WHERE state = 'out';
CREATE TABLE price_lines (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  item_id INTEGER REFERENCES items(id), position INTEGER NOT NULL,
  what TEXT NOT NULL, kind TEXT NOT NULL CHECK (kind IN ('flat', 'round', 'job', 'reduction')),
  quantity INTEGER NOT NULL DEFAULT 1 CHECK (quantity BETWEEN 1 AND 99),
  amount_minor INTEGER NOT NULL CHECK (amount_minor BETWEEN -100000000 AND 100000000)) STRICT;
CREATE INDEX price_lines_ticket ON price_lines(ticket_id);
CREATE TABLE payments (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id), at TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('deposit', 'payment', 'refund', 'correction')),
  amount_minor INTEGER NOT NULL CHECK (amount_minor BETWEEN -100000000 AND 100000000),
  staff_id INTEGER, note TEXT NOT NULL DEFAULT '') STRICT;
CREATE INDEX payments_ticket ON payments(ticket_id);
CREATE TABLE consents (
  id INTEGER PRIMARY KEY, ticket_id INTEGER NOT NULL REFERENCES tickets(id),
  text_version TEXT NOT NULL, sentences TEXT NOT NULL, name TEXT NOT NULL,
  initials TEXT NOT NULL DEFAULT '', signature_file TEXT NOT NULL DEFAULT '',
  agreed_at TEXT NOT NULL, staff_id INTEGER) STRICT;
CREATE INDEX consents_ticket ON consents(ticket_id);
"""
