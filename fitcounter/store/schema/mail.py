"""E-mails that wait to be sent, and customers who want none.

A row holds no address and no words: both are made when it is sent.
"""

from __future__ import annotations

MAIL = (
    "CREATE TABLE mails (id INTEGER PRIMARY KEY,"
    " ticket_id INTEGER NOT NULL REFERENCES tickets(id),"
    " kind TEXT NOT NULL CHECK (kind IN ('claim', 'late', 'ready', 'calendar', 'follow-up',"
    " 'guarantee')),"
    " event TEXT NOT NULL UNIQUE, queued_at TEXT NOT NULL, next_at TEXT NOT NULL,"
    " tries INTEGER NOT NULL DEFAULT 0,"
    " state TEXT NOT NULL DEFAULT 'waiting' CHECK (state IN ('waiting', 'sent', 'given-up',"
    " 'dropped')),"
    " fault TEXT NOT NULL DEFAULT '', done_at TEXT) STRICT",
    "CREATE INDEX mails_waiting ON mails(next_at) WHERE state = 'waiting'",
    "CREATE INDEX mails_ticket ON mails(ticket_id)",
    "CREATE INDEX mails_given_up ON mails(done_at) WHERE state = 'given-up'",
    "CREATE TABLE mail_stops (id INTEGER PRIMARY KEY,"
    " customer_id INTEGER NOT NULL UNIQUE REFERENCES customers(id), at TEXT NOT NULL) STRICT",
)
