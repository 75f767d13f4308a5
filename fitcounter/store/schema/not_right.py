"""What a customer felt, what the shop answered, and a calendar on hold until then.

A calendar whose customer has no answer yet is put on hold as of the day of the report.
"""

from __future__ import annotations

NOT_RIGHT = (
    "ALTER TABLE follow_ups ADD COLUMN felt TEXT NOT NULL DEFAULT ''",
    "CREATE TABLE wear_advice (id INTEGER PRIMARY KEY,"
    " ticket_id INTEGER NOT NULL REFERENCES tickets(id), at TEXT NOT NULL, advice TEXT NOT NULL"
    " CHECK (advice IN ('go-on', 'come-in', 'doctor', 'stop')), from_day TEXT,"
    " note TEXT NOT NULL, staff_id INTEGER NOT NULL) STRICT",
    "CREATE INDEX wear_advice_ticket ON wear_advice(ticket_id)",
    "ALTER TABLE wear_plans ADD COLUMN held_since TEXT",
    "ALTER TABLE wear_plans ADD COLUMN resumes_on TEXT",
    "UPDATE wear_plans SET held_since = (SELECT max(due_day) || 'T12:00:00Z' FROM follow_ups f"
    " WHERE f.ticket_id = wear_plans.ticket_id AND f.kind = 'not-right' AND f.done_at IS NULL),"
    " sequence = sequence + 1 WHERE EXISTS (SELECT 1 FROM follow_ups f WHERE f.ticket_id ="
    " wear_plans.ticket_id AND f.kind = 'not-right' AND f.done_at IS NULL)",
)
