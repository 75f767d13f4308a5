"""Customers found by any word of their name, and two entries of one person made one."""

from __future__ import annotations

# The words of a name key, each once: a space never stands inside an escape of JSON.
_WORDS = (
    "SELECT value, NEW.id FROM json_each('[' || replace(json_quote(trim(NEW.name_key)), ' ',"
    " '\",\"') || ']') WHERE value <> ''"
)
_NEW = f"INSERT OR IGNORE INTO name_words (word, customer_id) {_WORDS}"

NAME_WORDS = (
    "CREATE TABLE name_words (word TEXT NOT NULL, customer_id INTEGER NOT NULL REFERENCES"
    " customers(id)) STRICT",
    "CREATE UNIQUE INDEX name_words_word ON name_words(word, customer_id)",
    "CREATE INDEX name_words_customer ON name_words(customer_id)",
    f"CREATE TRIGGER name_words_insert AFTER INSERT ON customers BEGIN {_NEW}; END",
    "CREATE TRIGGER name_words_update AFTER UPDATE OF name_key ON customers BEGIN DELETE FROM"
    f" name_words WHERE customer_id = NEW.id; {_NEW}; END",
    "CREATE TRIGGER name_words_delete BEFORE DELETE ON customers BEGIN DELETE FROM name_words"
    " WHERE customer_id = OLD.id; END",
    "UPDATE customers SET name_key = name_key",
)

# before: JSON of what stood there, gone once it can no longer be undone.
MERGES = (
    "CREATE TABLE merges (id INTEGER PRIMARY KEY, kept_id INTEGER NOT NULL REFERENCES"
    " customers(id), gone_id INTEGER NOT NULL REFERENCES customers(id), gone_created_at TEXT NOT"
    " NULL, at TEXT NOT NULL, staff_id INTEGER, before TEXT NOT NULL, undone_at TEXT) STRICT",
    "CREATE INDEX merges_kept ON merges(kept_id)",
    "CREATE INDEX customers_email ON customers(email COLLATE NOCASE) WHERE email <> ''",
)
