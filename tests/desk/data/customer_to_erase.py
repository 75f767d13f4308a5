"""A customer with words that stand nowhere else in every column, photo and draft of theirs, and the
search for what is left of them.
"""

from __future__ import annotations

import json
from pathlib import Path

from support.ticket_rows import Job, make_job

from fitcounter.store.database import Act, Store

CANARY = "Zanzibarina Quexfeather"
CANARIES = ("Zanzibarina", "zanzibarina", "Quexfeather", "0170321", "quex@", "CANARY")


def customer_in_every_column(store: Store, act: Act) -> Job:
    """Their job: a canary in every column of theirs that holds words, photos and a signature on
    the disk, drafts; the ticket is out.
    """
    job = make_job(store, act, CANARY, state="out")
    said = {
        "tickets": {
            "note": "CANARY t",
            "collected_by": f"{CANARY} sister",
            "worn_with": "CANARY jeans",
            "state": "out",
            "link_hash": "CANARYlink",
        },
        "items": {"note": "CANARY i"},
        "customers": {
            "phone_typed": "(555) 0170321",
            "phone_e164": "+15550170321",
            "phone_last4": "0321",
            "email": "quex@example.org",
            "note": "CANARY c",
        },
    }
    where = {
        "tickets": f"id = {job.ticket_id}",
        "items": f"ticket_id = {job.ticket_id}",
        "customers": "name LIKE 'Zanzi%'",
    }
    at = "2026-03-17T14:00:00Z"
    with store.write_tx():
        for table, columns in said.items():
            marks = ", ".join(f"{name} = ?" for name in columns)
            store.db.execute(
                f"UPDATE {table} SET {marks} WHERE {where[table]}", list(columns.values())
            )
        store.insert(
            "consents",
            ticket_id=job.ticket_id,
            text_version="1",
            sentences="[]",
            name=CANARY,
            initials="ZQ",
            signature_file="s.png",
            agreed_at=at,
        )
        store.insert(
            "calls", ticket_id=job.ticket_id, at=at, about="ready", how="called", note="CANARY call"
        )
        store.insert(
            "follow_ups",
            ticket_id=job.ticket_id,
            due_day="2026-04-01",
            kind="not-right",
            said="CANARY said",
            answer="CANARY answer",
        )
        store.insert(
            "comebacks",
            ticket_id=job.ticket_id,
            item_id=job.left,
            at=at,
            said="CANARY back",
            answer="CANARY",
            leg_change_um=2000,
        )
        store.insert(
            "findings",
            item_id=job.left,
            moment="before",
            word="scratch",
            note="CANARY found",
            seen_at=at,
        )
        store.insert(
            "incidents", item_id=job.left, opened_at=at, what="seam", agreed="CANARY agreed"
        )
        store.insert(
            "predictions",
            item_id=job.left,
            made_at=at,
            assessment='{"legs": "CANARY"}',
            tier="likely",
        )
        store.insert(
            "payments",
            ticket_id=job.ticket_id,
            at=at,
            kind="correction",
            amount_minor=1,
            note="CANARY paid",
        )
        said_back = json.dumps([job.ticket_id, job.left, None, "CANARY: the leg is fuller"])
        store.insert("submissions", id="a-comeback-of-hers", body_hash="", result=said_back, at=at)
        store.insert("undos", item_id=job.left, step="turn", after_step_id=1, back='"CANARY"')
        store.insert("rounds", item_id=job.left, n=1)
        for n in range(300):  # enough to split pages, whose remains secure_delete alone may leave
            leg = {
                "girth_um": 400000,
                "girth_text": f"CANARY {n}",
                "height_um": 1000 * n,
                "height_text": "9",
                "unit": "in",
                "repeat": 1,
            }
            store.insert("leg_readings", fit_id=job.fit_id, side="left", read_at=at, **leg)
        store.insert(
            "drafts",
            id="d" * 20,
            kind="new",
            form=json.dumps([["name", CANARY], ["note", "CANARY"]]),
            words=CANARY,
            updated_at=at,
        )
        late = {
            "id": "f" * 20,
            "kind": "parked",
            "form": '[["girth", "CANARY girth"]]',
        }  # came after signing out
        store.insert("drafts", **late, words=f"/items/{job.left}/measure", updated_at=at)
        store.insert(
            "drafts",
            id="e" * 20,
            kind="new",
            form='[["name", "Somebody Else"]]',
            words="Somebody Else",
            updated_at=at,
        )
        photo = {"width_px": 1, "height_px": 1, "bytes": 6, "content_hash": "", "taken_at": at}
        store.insert("photos", ticket_id=job.ticket_id, moment="before", file="p.jpg", **photo)
    put_files(store.path.parent)
    return job


def put_files(data: Path) -> None:
    for folder, name in (("photos", "p.jpg"), ("signatures", "s.png")):
        (data / folder).mkdir(exist_ok=True)
        (data / folder / name).write_bytes(b"CANARY picture")


def customer_of(store: Store, job: Job) -> int:
    return int(store.value("SELECT customer_id FROM tickets WHERE id = ?", job.ticket_id))


def found(data: Path) -> dict[str, list[str]]:
    """Which canary stands in which file of the folder, copies left out."""
    looked = [
        path
        for path in data.rglob("*")
        if path.is_file() and "copies" not in path.parts and "before-restore" not in str(path)
    ]
    contents = {path.name: path.read_bytes() for path in looked}
    return {
        name: hits
        for name, held in contents.items()
        if (hits := [one for one in CANARIES if one.encode() in held])
    }
