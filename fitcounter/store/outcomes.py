"""What became of the work: predictions kept beside what it took, comebacks, guarantees that end,
and the rounds and trees that the book is made from.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any, NamedTuple

from fitcounter.store.database import Act, Store, utc_text
from fitcounter.store.records import Ticket

# The newest rounds speak for the bench as it works now, and the answer stays quick however old the
# shop grows.
NEWEST_ROUNDS = 2000
NEWEST_ITEMS = 4000
MAX_ID = 2**63 - 1
# A boot is finished when its stretching is over.
FINISHED = "('finishing', 'finished', 'shelved', 'out', 'closed')"


class ReadRound(NamedTuple):
    """One round with the girth of its last turn, and the leather of its boot.

    Rounds that never ran are left out.
    """

    item_id: int
    fit_id: int | None
    material: str
    n: int
    prepared: str
    method: str
    rested_method: str
    before_um: int | None
    on_tree_um: int | None
    rested_um: int | None
    rested_counts: int
    rested_reads: str
    held_from: str
    off_at: str
    outcome: str


class EstimateAndResult(NamedTuple):
    """What was said of a boot when it was agreed, and what it took.

    shelved_at: when it was on the shelf, None before. outcome: finished, stopped, declined or
    unfinished, after one round at least.
    """

    item_id: int
    ticket_id: int
    made_at: str
    likely: int | None
    eight_in_ten: int | None
    promise_day: str | None
    rounds: int
    shelved_at: str | None
    outcome: str = "finished"


class ComebackRow(NamedTuple):
    """One item that came back, with its ticket and what was answered."""

    ticket_id: int
    number: int
    at: str
    side: str | None
    said: str
    answer: str
    under_guarantee: int


class BootName(NamedTuple):
    """One boot with its ticket and whose it is."""

    item_id: int
    side: str | None
    number: int
    name: str


def names_of(store: Store, item_ids: Sequence[int]) -> dict[int, BootName]:
    """By item."""
    sql = (
        "SELECT i.id AS item_id, i.side, t.number, c.name FROM json_each(?) wanted JOIN items i ON"
        " i.id = wanted.value JOIN tickets t ON t.id = i.ticket_id JOIN customers c ON c.id ="
        " t.customer_id"
    )
    return {one.item_id: one for one in store.all(BootName, sql, json.dumps(list(item_ids)))}


def learnt_rounds(store: Store) -> list[ReadRound]:
    """The newest rounds that are over, by boot and round; of every boot, because those that were
    stopped or declined are the ones that kept little.
    """
    # the plus keeps SQLite from walking all rounds in the order wanted
    sql = f"""
SELECT r.item_id, i.fit_id, i.material, r.n, r.prepared, r.method, r.rested_method, r.before_um,
  (SELECT t.girth_um FROM turns t WHERE t.round_id = r.id AND t.girth_um IS NOT NULL
  ORDER BY t.n DESC LIMIT 1) AS on_tree_um,
  r.rested_um, r.rested_counts, r.rested_reads,
  coalesce((SELECT max(t.at) FROM turns t WHERE t.round_id = r.id), r.on_at) AS held_from, r.off_at,
  r.outcome
FROM rounds r JOIN items i ON i.id = r.item_id
WHERE r.on_at IS NOT NULL AND r.off_at IS NOT NULL
  AND r.id > (SELECT coalesce(max(id), 0) - {NEWEST_ROUNDS} FROM rounds)
ORDER BY +r.item_id, r.n"""
    return store.all(ReadRound, sql)


# A part of a statement, as a text: how many rested readings the newest rounds have, and their sums.
ROUNDS_STAMP = f"""(SELECT count(rested_um) || ':' || coalesce(sum(rested_um), 0)
  || ':' || coalesce(sum(before_um), 0) || ':' || coalesce(sum(length(rested_reads)), 0)
  || ':' || coalesce(sum(version), 0) || ':' || coalesce(sum(rested_counts), 0)
  FROM rounds WHERE rested_um IS NOT NULL
  AND id > (SELECT coalesce(max(id), 0) - {NEWEST_ROUNDS} FROM rounds))"""


def rounds_stamp(store: Store) -> str:
    """A text that changes when a rested reading is written, changed, counted or taken back: while
    it stands, the shop's boots say the same.
    """
    return str(store.value(f"SELECT {ROUNDS_STAMP}"))


def newest_item(store: Store) -> int:
    """The id of the newest item, 0 before there is one."""
    return int(store.value("SELECT coalesce(max(id), 0) FROM items"))


def newest_items_from(store: Store) -> int:
    """The lowest id among the newest items, which the book is about; 1 or less when it is about
    all.
    """
    return newest_item(store) - NEWEST_ITEMS + 1


def said_and_took(store: Store, first_id: int, last_id: int = MAX_ID) -> list[EstimateAndResult]:
    """The first answer of every boot that was finished, or had a round and was not, against what it
    took until it was first handed over; a comeback's rounds are its own. Newest first.

    first_id, last_id: of items, both inclusive.
    """
    sql = f"""
SELECT * FROM (
SELECT p.item_id, i.ticket_id, p.made_at, p.likely, p.eight_in_ten, p.promise_day,
  (SELECT count(*) FROM rounds r WHERE r.item_id = i.id AND r.off_at IS NOT NULL
  AND r.off_at <= coalesce(
    (SELECT min(s.happened_at) FROM steps s WHERE s.item_id = i.id AND s.to_state = 'out'
    AND s.undone_at IS NULL), r.off_at)) AS rounds,
  (SELECT min(s.happened_at) FROM steps s WHERE s.item_id = i.id AND s.to_state = 'shelved'
  AND s.recorded = 1) AS shelved_at,
  CASE WHEN EXISTS (SELECT 1 FROM steps s WHERE s.item_id = i.id AND s.to_state = 'declined'
    AND s.undone_at IS NULL) THEN 'declined'
  WHEN i.state = 'stopped' THEN 'stopped' WHEN i.state IN {FINISHED} THEN 'finished'
  ELSE 'unfinished' END AS outcome
FROM items i JOIN predictions p ON p.id = (SELECT min(id) FROM predictions WHERE item_id = i.id)
WHERE i.id BETWEEN ? AND ? AND p.likely IS NOT NULL)
WHERE outcome = 'finished' OR rounds > 0
ORDER BY made_at DESC, item_id"""
    return store.all(EstimateAndResult, sql, first_id, last_id)


def comebacks(store: Store, first_id: int) -> list[ComebackRow]:
    """Of items from this id on, newest first."""
    sql = """
SELECT c.ticket_id, t.number, c.at, i.side, c.said, c.answer, c.under_guarantee
FROM comebacks c JOIN tickets t ON t.id = c.ticket_id JOIN items i ON i.id = c.item_id
WHERE c.item_id >= ? ORDER BY +c.id DESC"""
    return store.all(ComebackRow, sql, first_id)


def tree_days(store: Store, since: str) -> dict[str, float]:
    """Days on a boot by tree label since an instant, of the newest rounds; what is on it now counts
    up to its last written hour.
    """
    sql = f"""
SELECT t.label, sum(julianday(coalesce(r.off_at, r.due_off_at)) - julianday(max(r.on_at,
  ?))) AS days
FROM trees t LEFT JOIN rounds r ON r.tree_id = t.id AND r.on_at IS NOT NULL
  AND coalesce(r.off_at, r.due_off_at) > ?
  AND r.id > (SELECT coalesce(max(id), 0) - {NEWEST_ROUNDS} FROM rounds)
WHERE t.state <> 'retired' GROUP BY t.id ORDER BY t.id"""
    return {row["label"]: float(row["days"] or 0) for row in store.rows(sql, since, since)}


def guarantees_ending(store: Store, first_day: str, last_day: str) -> list[dict[str, object]]:
    """Ticket, number, customer and last day covered, soonest first."""
    sql = """
SELECT t.id, t.number, t.guarantee_end,
  c.name FROM tickets t JOIN customers c ON c.id = t.customer_id
WHERE t.state = 'out' AND t.guarantee_end BETWEEN ? AND ? ORDER BY t.guarantee_end"""
    return store.rows(sql, first_day, last_day)


def handed_over(store: Store, first_id: int) -> int:
    """Boots that went out after stretching, of items from this id on."""
    return int(
        store.value(
            "SELECT count(*) FROM items WHERE work = 'stretch' AND state IN ('out', 'closed') AND"
            " id >= ?",
            first_id,
        )
    )


def add_prediction(
    store: Store,
    act: Act,
    item_id: int,
    side: dict[str, Any],
    hope_day: str | None,
    promise_day: str | None,
) -> int:
    """Keeps one side's answer, inside a write.

    side: as fit.assess gives it, and what goes with it.
    """
    kept = side.get("kept") or {}
    row = {
        "item_id": item_id,
        "made_at": utc_text(act.at),
        "assessment": json.dumps(side, ensure_ascii=False, sort_keys=True),
        "tier": side["tier"],
    }
    numbers = {
        "likely": side.get("likely"),
        "eight_in_ten": side.get("eight_in_ten"),
        "kept_mean": kept.get("mean"),
    }
    return store.insert("predictions", **row, **numbers, hope_day=hope_day, promise_day=promise_day)


def latest_prediction(store: Store, item_id: int) -> dict[str, Any] | None:
    """The last answer kept for an item, with the whole assessment, or None."""
    rows = store.rows(
        "SELECT * FROM predictions WHERE item_id = ? ORDER BY id DESC LIMIT 1", item_id
    )
    return {**rows[0], "assessment": json.loads(rows[0]["assessment"])} if rows else None


def guarantee_over(store: Store, day: date) -> list[Ticket]:
    """Handed over, and covered until that day or an earlier one, or not covered at all."""
    sql = (
        "SELECT * FROM tickets WHERE state = 'out' AND coalesce(guarantee_end,"
        " substr(handed_over_at, 1, 10)) <= ? ORDER BY id"
    )
    return store.all(Ticket, sql, day.isoformat())


def reopen(store: Store, ticket: Ticket, number: int) -> None:
    """Opens a ticket again under a number that is free now, inside a write."""
    if ticket.state != "open":
        store.change("tickets", ticket.id, ticket.version, state="open", number=number)


def number_is_free(store: Store, number: int) -> bool:
    return store.value("SELECT 1 FROM tickets WHERE number = ? AND state = 'open'", number) is None


def add_comeback(
    store: Store, ticket_id: int, item_id: int, at: datetime, **columns: object
) -> int:
    """at: aware datetime.

    columns: said, answer, boot_change_um, leg_change_um, under_guarantee. Inside a write.
    """
    return store.insert(
        "comebacks", ticket_id=ticket_id, item_id=item_id, at=utc_text(at), **columns
    )
