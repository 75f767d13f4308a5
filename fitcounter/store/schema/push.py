"""Phones that get messages, each under the address its browser's service gave it, and the messages
that wait for them.

A message's row holds no words: they are made when it is sent. A phone that gets none any more
keeps neither address nor keys.
"""

from __future__ import annotations

PUSH = (
    "CREATE TABLE push_phones (id INTEGER PRIMARY KEY,"
    " ticket_id INTEGER REFERENCES tickets(id), staff_id INTEGER REFERENCES staff(id),"
    " phone_id INTEGER REFERENCES phones(id),"
    " endpoint TEXT NOT NULL, p256dh TEXT NOT NULL, auth TEXT NOT NULL,"
    " language TEXT NOT NULL DEFAULT '', since TEXT NOT NULL, ended_at TEXT,"
    " CHECK ((ticket_id IS NULL) <> (staff_id IS NULL))) STRICT",
    "CREATE UNIQUE INDEX push_phones_endpoint ON push_phones(endpoint) WHERE ended_at IS NULL",
    "CREATE INDEX push_phones_ticket ON push_phones(ticket_id) WHERE ended_at IS NULL",
    "CREATE TABLE pushes (id INTEGER PRIMARY KEY,"
    " push_phone_id INTEGER NOT NULL REFERENCES push_phones(id),"
    " ticket_id INTEGER NOT NULL REFERENCES tickets(id),"
    " kind TEXT NOT NULL CHECK (kind IN ('put-on', 'take-off', 'missed', 'answered', 'ready',"
    " 'hold', 'not-right')),"
    " event TEXT NOT NULL, queued_at TEXT NOT NULL, next_at TEXT NOT NULL,"
    " tries INTEGER NOT NULL DEFAULT 0,"
    " state TEXT NOT NULL DEFAULT 'waiting' CHECK (state IN ('waiting', 'sent', 'given-up',"
    " 'dropped')),"
    " fault TEXT NOT NULL DEFAULT '', done_at TEXT, UNIQUE (push_phone_id, event)) STRICT",
    "CREATE INDEX pushes_waiting ON pushes(next_at) WHERE state = 'waiting'",
    "CREATE INDEX pushes_ticket ON pushes(ticket_id)",
    "CREATE INDEX pushes_done ON pushes(done_at)",
)
