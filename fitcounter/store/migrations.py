"""Named, ordered steps that bring a shop's file to today's tables.

Each runs in one transaction with its record.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sqlite_utils import Database
from sqlite_utils.migrations import Migrations

from fitcounter.store.database import APPLICATION_ID
from fitcounter.store.schema import (
    FIRST,
    by_their_key,
    instead,
    not_right,
    one_boot,
    page_indexes,
    promises,
    same_person,
    statements,
    work,
)
from fitcounter.store.schema.billing import BILLED, FIGURES
from fitcounter.store.schema.links import LINK_CODES, RELINKED, SHARED_LINKS
from fitcounter.store.schema.mail import MAIL
from fitcounter.store.schema.numbers import NUMBERS
from fitcounter.store.schema.push import PUSH
from fitcounter.store.schema.till import LOG_BY_TICKET, PAID_BY, PRICES, TILL

migrations = Migrations("fitcounter")


@migrations()
def m0001_first(db: Database) -> None:
    """The tables as they are first made."""
    for statement in statements(FIRST):
        db.execute(statement)
    db.execute(f"PRAGMA application_id = {APPLICATION_ID}")


@migrations()
def m0002_undos(db: Database) -> None:
    """The way back of a bench step, so that the last one can be taken back."""
    db.execute(
        "CREATE TABLE undos (id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES items(id),"
        " step TEXT NOT NULL, after_step_id INTEGER NOT NULL, back TEXT NOT NULL) STRICT"
    )
    db.execute("CREATE INDEX undos_item ON undos(item_id)")


@migrations()
def m0003_bench_days(db: Database) -> None:
    """The last bench plan's days, with what each boot's rounds were reckoned from."""
    db.execute(
        "CREATE TABLE bench_days (item_id INTEGER PRIMARY KEY REFERENCES items(id), stamp TEXT NOT"
        " NULL, likely INTEGER, eight_in_ten INTEGER, trees TEXT NOT NULL, hope_day TEXT, ready_day"
        " TEXT, waits_days INTEGER NOT NULL, steps TEXT NOT NULL, why TEXT NOT NULL) STRICT"
    )


@migrations()
def m0004_hands(db: Database) -> None:
    """On a phone of the shop: whose initials were tapped last, when that person's PIN was right;
    and what a device calls itself.
    """
    db.execute("ALTER TABLE sessions ADD COLUMN who_id INTEGER REFERENCES staff(id)")
    db.execute("ALTER TABLE sessions ADD COLUMN who_at TEXT")
    db.execute("ALTER TABLE sessions ADD COLUMN proved_at TEXT")
    db.execute("ALTER TABLE sessions ADD COLUMN device TEXT NOT NULL DEFAULT ''")


@migrations()
def m0005_gap_repeats(db: Database) -> None:
    """A gap can be read more than once, as a girth can."""
    db.execute(
        "CREATE TABLE gap_readings_new (id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES"
        " items(id), kind TEXT NOT NULL CHECK (kind IN ('gap', 'amount')), height_um INTEGER NOT"
        " NULL CHECK (height_um BETWEEN 0 AND 900000), height_text TEXT NOT NULL, gap_um INTEGER"
        " NOT NULL CHECK (gap_um BETWEEN 0 AND 400000), gap_text TEXT NOT NULL, unit TEXT NOT NULL,"
        " repeat INTEGER NOT NULL DEFAULT 1 CHECK (repeat BETWEEN 1 AND 4), read_at TEXT NOT NULL,"
        " staff_id INTEGER, UNIQUE (item_id, kind, height_um, repeat)) STRICT"
    )
    held = "id, item_id, kind, height_um, height_text, gap_um, gap_text, unit, read_at, staff_id"
    db.execute(f"INSERT INTO gap_readings_new ({held}) SELECT {held} FROM gap_readings")
    db.execute("DROP TABLE gap_readings")
    db.execute("ALTER TABLE gap_readings_new RENAME TO gap_readings")


@migrations()
def m0006_link_series(db: Database) -> None:
    """How many links a ticket has had: a new one is made from the next number, so that the old one
    opens nothing.
    """
    db.execute("ALTER TABLE tickets ADD COLUMN link_series INTEGER NOT NULL DEFAULT 1")


@migrations()
def m0007_finishes(db: Database) -> None:
    """The steps that finish something, by themselves; no page asks for them any more."""
    db.execute(page_indexes.STEPS_FINISH)


@migrations()
def m0008_handed_over(db: Database) -> None:
    """What was fetched on a day, whatever the number of closed tickets: Today asks for it."""
    db.execute(page_indexes.TICKETS_HANDED_OVER)


@migrations()
def m0009_readings(db: Database) -> None:
    """The same checks without lists: for each row SQLite made a table of its own of every list of
    three or more, forty for one sheet.
    """
    moments = "CHECK (moment = 'brought-in' OR moment = 'pickup' OR moment = 'comeback')"
    methods = "CHECK (method = 'inside' OR method = 'outside' OR method = 'flat')"
    girth = (
        "height_um INTEGER NOT NULL CHECK (height_um BETWEEN 0 AND 900000), height_text TEXT NOT"
        " NULL, girth_um INTEGER NOT NULL CHECK (girth_um BETWEEN 50000 AND 1300000), girth_text"
        " TEXT NOT NULL, unit TEXT NOT NULL"
    )
    read = "repeat INTEGER NOT NULL, read_at TEXT NOT NULL, staff_id INTEGER"
    db.execute(
        "CREATE TABLE leg_readings_new (id INTEGER PRIMARY KEY, fit_id INTEGER NOT NULL REFERENCES"
        " fits(id), side TEXT NOT NULL CHECK (side = 'left' OR side = 'right'), moment TEXT NOT"
        f" NULL DEFAULT 'brought-in' {moments}, station TEXT NOT NULL DEFAULT '', {girth}, {read},"
        " UNIQUE (fit_id, side, moment, height_um, repeat)) STRICT"
    )
    db.execute(
        "CREATE TABLE boot_readings_new (id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL"
        f" REFERENCES items(id), moment TEXT NOT NULL {moments}, {girth}, method TEXT NOT NULL"
        f" {methods}, {read}, UNIQUE (item_id, moment, height_um, repeat)) STRICT"
    )
    for table in ("leg_readings", "boot_readings"):
        db.execute(f"INSERT INTO {table}_new SELECT * FROM {table}")
        db.execute(f"DROP TABLE {table}")
        db.execute(f"ALTER TABLE {table}_new RENAME TO {table}")


@migrations()
def m0010_drafts_of(db: Database) -> None:
    """Whom a draft was about when her name or number was put right: it goes with her although it
    says what stood there before.
    """
    db.execute("ALTER TABLE drafts ADD COLUMN customer_id INTEGER")


@migrations()
def m0011_picture_names(db: Database) -> None:
    """Pictures are named by a name alone, never by a way to another folder.

    A row that says otherwise can only have come from elsewhere: its picture is nowhere.
    """
    for table, column, nothing in (
        ("photos", "file", "'none-' || id"),
        ("consents", "signature_file", "''"),
    ):
        check = (
            f"length({column}) <= 100 AND {column} NOT GLOB '*[^A-Za-z0-9._-]*'"
            f" AND {column} GLOB '[A-Za-z0-9_-]*' AND instr({column}, char(0)) = 0"
        )
        check = f"{column} = {nothing} OR {check}" if table == "consents" else check
        db.execute(f"UPDATE {table} SET {column} = {nothing} WHERE NOT ({check})")
        _add_check(db, table, column, check)


def _add_check(db: Database, table: str, column: str, check: str) -> None:
    """Makes a table anew, with a check of one of its columns and with its indexes."""
    made = str(db.execute("SELECT sql FROM sqlite_master WHERE name = ?", [table]).fetchone()[0])
    indexes = db.execute(
        "SELECT sql FROM sqlite_master WHERE type = 'index' AND tbl_name = ? AND sql IS NOT NULL",
        [table],
    ).fetchall()
    body = made[made.index("(") :]
    body = body.replace(f" {column} TEXT NOT NULL", f" {column} TEXT NOT NULL CHECK ({check})", 1)
    db.execute(f"CREATE TABLE {table}_new {body}")
    db.execute(f"INSERT INTO {table}_new SELECT * FROM {table}")
    db.execute(f"DROP TABLE {table}")
    db.execute(f"ALTER TABLE {table}_new RENAME TO {table}")
    for (statement,) in indexes:
        db.execute(statement)


@migrations()
def m0012_bench_plan(db: Database) -> None:
    """The day and the rows that the kept bench plan was made from, so that a write that changes
    none of them does not plan anew.
    """
    db.execute(
        "CREATE TABLE bench_plan (id INTEGER PRIMARY KEY CHECK (id = 1), day TEXT NOT NULL,"
        " made_from TEXT NOT NULL) STRICT"
    )


@migrations()
def m0016_staff_language(db: Database) -> None:
    """The language that each person at the shop reads; "" for the shop's own."""
    db.execute("ALTER TABLE staff ADD COLUMN language TEXT NOT NULL DEFAULT ''")


@migrations()
def m0020_numbers(db: Database) -> None:
    """What the third version of the numbers keeps."""
    for statement in NUMBERS:
        db.execute(statement)


@migrations()
def m0021_asked_by_pages(db: Database) -> None:
    """An index for each thing that pages ask of tables that grow with the years."""
    for statement in page_indexes.ASKED_BY_PAGES:
        db.execute(statement)


@migrations()
def m0025_promises(db: Database) -> None:
    """Promised days that moved."""
    for statement in promises.PROMISES:
        db.execute(statement)


@migrations()
def m0026_on_hold(db: Database) -> None:
    """What an item on hold waits for, in words."""
    db.execute(promises.ON_HOLD)


# Later steps: each runs its statements and does nothing else.
LATER: dict[str, Sequence[str]] = {
    # Prices that change after they were agreed, discounts, and jobs that are cancelled.
    "m0030_prices": PRICES,
    # How a payment was made, and the tip beside it.
    "m0031_paid_by": PAID_BY,
    # Closed tills, who collected what, and the balance of every ticket, kept by the file.
    "m0032_till": TILL,
    # What pages ask of the log of who did what, and of prices that were changed.
    "m0033_log_by_ticket": LOG_BY_TICKET,
    # A calendar on hold, and the shop's answers to what did not feel right.
    "m0034_not_right": not_right.NOT_RIGHT,
    # A calendar for one boot alone; what was worn before a second pickup is kept.
    "m0035_one_boot": one_boot.ONE_BOOT,
    # The calendar before the customer's last change, so that it can be undone.
    "m0036_wear_undo": one_boot.WEAR_UNDO,
    # How each boot felt after a wear.
    "m0037_feelings": one_boot.FEELINGS,
    # Whether a ticket is a rush job.
    "m0040_rush": (promises.RUSH,),
    # Days kept on the trees for a job that was asked about and is on no ticket yet.
    "m0041_promised_slots": promises.PROMISED_SLOTS,
    # Every word of every customer's name, so that all are found by any of them.
    "m0043_name_words": same_person.NAME_WORDS,
    # Two entries of one person made one, with the way back.
    "m0044_merges": same_person.MERGES,
    # The shop's list of work, and jobs from it on boots that are here anyway.
    "m0045_work": work.WORK,
    # E-mails that wait to be sent, and customers who want none.
    "m0047_mail": MAIL,
    # The short code of a customer's page, as a hash.
    "m0053_link_codes": LINK_CODES,
    # A link that only shows the customer's page, for who helps them.
    "m0054_shared_links": SHARED_LINKS,
    # Phones that get messages, and the messages that wait for them.
    "m0061_push": PUSH,
    # Tickets that have had more than one link, whose older e-mails still stop e-mails.
    "m0062_relinked": RELINKED,
    # When each price line was billed: what was said of a past day stays so.
    "m0065_billed": BILLED,
    # What the owner's figures of some days ask.
    "m0066_figures": FIGURES,
    # Who is signed in and what was just sent, without reading all of years.
    "m0075_living_and_sent": page_indexes.LIVING_AND_SENT,
    # What is done in place of stretching.
    "m0082_instead": instead.INSTEAD,
    # From where a photo was taken, so that two of the same view stand side by side.
    "m0083_photo_view": instead.PHOTO_VIEW,
    # Readings and submissions in the order of what they are asked by.
    "m0084_by_their_key": by_their_key.BY_THEIR_KEY,
}


def _running(statements: Sequence[str]) -> Callable[[Database], None]:
    def run(db: Database) -> None:
        for statement in statements:
            db.execute(statement)

    return run


for _name, _statements in LATER.items():
    migrations(name=_name)(_running(_statements))
