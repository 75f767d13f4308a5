"""The addresses of every page of the invented shop, in every state it can show."""

from __future__ import annotations

from fitcounter.store.database import Store
from fitcounter.web.bench.filled_in_step import FORMS

OUT = "SELECT ticket_id AS id FROM items WHERE state = 'out' AND kind = 'boot' LIMIT 1"


def _ids(store: Store, sql: str) -> list[int]:
    return [int(row["id"]) for row in store.rows(sql)]


def every_address(store: Store) -> list[str]:
    """Every page with every kind of thing it shows: an item of each state with each form, a ticket
    of each state, and so on.
    """
    items = _ids(store, "SELECT min(id) AS id FROM items GROUP BY state, kind")
    fits = _ids(
        store,
        "SELECT min(f.id) AS id FROM fits f JOIN tickets t ON t.id = f.ticket_id GROUP BY f.unit,"
        " t.state, f.limits",
    )
    some = _ids(store, "SELECT min(id) AS id FROM tickets GROUP BY state")
    queued = _ids(store, "SELECT id FROM items WHERE state = 'queued' AND work = 'stretch' LIMIT 1")
    code = store.value(
        "SELECT code FROM tags WHERE item_id IS NOT NULL AND died_at IS NULL LIMIT 1"
    )
    incident = _ids(store, "SELECT id FROM incidents LIMIT 1")
    boot = _ids(store, "SELECT id FROM items WHERE state = 'on-tree' LIMIT 1")[0]
    found = [
        "/",
        "/find?q=41",
        "/find?q=zz",
        "/new",
        "/already",
        "/already/list",
        "/bench",
        "/bench/off",
        "/bench/plan",
        "/bench/trees",
        "/bench/stand",
        f"/bench/stand?scan={boot}",
        f"/bench/stand?boot={boot}",
        "/bench/stand?scan=nonsense",
        "/pickup",
        "/papers",
        "/book",
        "/till",
        "/book/boots/all",
        "/book/income",
        "/book/income?by=month&first=2026-03-01&last=2026-03-31",
        "/book/figures",
        "/book/figures/work",
        "/shop",
        "/shop/choices",
        "/shop/closings",
        "/promise",
        "/promise?leather=full-grain&short=1/2&sides=pair&needed=2026-04-02",
        "/shop/customers",
        "/shop/everything",
        "/shop/health",
        "/shop/leathers",
        "/shop/leathers/goat",
        "/shop/mail",
        "/shop/off-site",
        "/shop/people",
        "/shop/phones",
        "/shop/push",
        "/shop/prices",
        "/shop/prices/heel-tips",
        "/shop/prices/new",
        "/handbook",
        "/guide",
        "/guide/a-job",
        "/guide/copies",
        "/guide/first-day",
        "/guide/phones",
        "/guide/messages",
        "/guide/trouble",
        "/me",
        "/offline",
        "/unsent",
        "/no-such-page",
        f"/T/{code}",
        "/T/0000-0000-1",
        "/shop/customers/1",
        "/shop/people/1",
        "/bench/trees/1",
        "/items/999999",
    ]
    found += [f"/items/{one}" for one in items] + [
        f"/items/{queued[0]}?do={name}" for name in FORMS if name != "undo"
    ]
    found += [f"/items/{boot}/tag", f"/items/{boot}/tag/swap/{queued[0]}"]
    found += [f"/bench/stand?do={name}" for name in ("put-on", "turn-up", "measure-again")]
    found += [f"/bench/stand?boot={boot}&do={name}" for name in ("turn-up", "take-off")]
    found += [f"/items/{boot}?do={name}" for name in ("turn-up", "leave-on", "take-off", "stop")]
    found += [f"/fits/{one}/{what}" for one in fits for what in ("measure", "verdict")]
    found += [
        f"/tickets/{one}{what}"
        for one in some
        for what in (
            "",
            "/agree",
            "/call",
            "/details",
            "/merge?q=ma",
            "/link",
            "/not-right",
            "/price",
        )
    ] + [f"/pickup/{one}" for one in some]
    open_ones = _ids(store, "SELECT min(id) AS id FROM tickets WHERE state = 'open'")
    found += [f"/tickets/{one}/{what}" for one in open_ones for what in ("cancel", "work")]
    two = _ids(store, "SELECT id FROM customers WHERE erased_at IS NULL ORDER BY id DESC LIMIT 2")
    found += [f"/tickets/{one}/merge/{two[0]}" for one in open_ones]
    found += [f"/bench/choice/{queued[0]}", f"/tickets/{_ids(store, OUT)[0]}/back"] + [
        f"/incidents/{one}" for one in incident
    ]
    return found
