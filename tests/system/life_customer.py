"""A life's steps with the customer: picked up, worn, answered on their own page, and back again."""

from __future__ import annotations

from support.push_service import ANY_PHONE
from system.life import Life, found, picture
from system.life_pair import pair

from fitcounter.desk.common.link_token import link_code, link_hash, link_key, link_token
from fitcounter.store import customers, settings, tickets


def pickup(life: Life) -> None:
    """Called, tried on, handed over with money and a calendar."""
    ticket_id, _, left, right = pair(life)
    life.write(f"/tickets/{ticket_id}/call", {"how": "left-word", "note": "with her son"})
    life.write(
        f"/tickets/{ticket_id}/money",
        {"what": "refund", "amount": "5", "why": "one heel cap was not done", "method": "cash"},
    )
    life.write(f"/pickup/{ticket_id}/tried/{left}", {"how": "snug"})
    life.write(f"/pickup/{ticket_id}/tried", {"how": "fits"})
    handed: dict[str, object] = {
        "items": [str(left), str(right)],
        "collected_by": "Marisol",
        "paid": "10",
        "method": "cash",
        "preset": "growing",
        "evening": "18:00",
    }
    life.write(f"/pickup/{ticket_id}", handed)
    life.write("/till", till_counted(life))


def till_counted(life: Life) -> dict[str, object]:
    """The till as its page shows it, counted with a note."""
    counted = {f"counted_{kind}": "1" for kind in ("cash", "card", "transfer", "other", "unsaid")}
    seen = found(r'name="seen" value="([^"]*)"', life.owner.get("/till").text)
    return {**counted, "change": "5", "note": "a coin", "seen": seen}


def push_on(life: Life) -> None:
    """Messages go to phones, though no phone outside opens the address of the tests."""
    store = life.shop.store
    with store.write_tx():
        settings.put(store, "push", {"on": True, "hosts": ["fcm.googleapis.com"]})


def her_page(life: Life) -> None:
    """What she says on her own page."""
    ticket_id = pair(life)[0]
    ticket = tickets.get(life.shop.store, ticket_id)
    token = link_token(
        link_key(life.shop.store.path.parent),
        ticket,
        tickets.links_so_far(life.shop.store, ticket_id),
    )
    assert life.value("SELECT count(*) FROM tickets WHERE link_hash = ?", link_hash(token)) == 1
    life.her.get(f"/c/{token}")
    life.write(f"/c/{token}/language", {"language": "en"}, life.her)
    life.write(f"/c/{token}/hour", {"evening": "19:30"}, life.her)
    life.write(f"/c/{token}/zone", {"zone": "America/Chicago"}, life.her)
    life.write(f"/c/{token}/undo", {}, life.her)
    life.write(f"/c/{token}/not-today", {"n": "1"}, life.her)
    life.on(days=9)
    life.write(f"/c/{token}/again", {"again": "yes"}, life.her)
    life.on(hours=50)
    push_on(life)
    life.write(f"/c/{token}/push", ANY_PHONE, life.her)
    life.write("/me/push", {**ANY_PHONE, "endpoint": f"{ANY_PHONE['endpoint']}2"})
    life.write(f"/c/{token}/clock", {"n": "1", "clock": "17", "ago": "60"}, life.her)
    life.write(f"/c/{token}/clock", {"clock": ""}, life.her)
    life.write(f"/c/{token}/push/end", {}, life.her)
    life.write(f"/c/{token}/wear", {"n": "1", "minutes": "20"}, life.her)
    life.write(f"/c/{token}/felt", {"felt": "left-good"}, life.her)
    told = {"felt": "left-tight", "spot": "left-calf", "said": "presses"}
    life.write(f"/c/{token}/not-right", told, life.her)
    life.write(f"/c/{token}/photo", {}, life.her, make=picture)
    life.write(f"/c/{token}/share", {}, life.her)
    life.write(f"/c/{token}/share/end", {}, life.her)
    digits = {"digits": customers.last_four(life.shop.store, ticket_id)}
    life.write(f"/c/{token}/agreed", digits, life.her)
    series = tickets.links_so_far(life.shop.store, ticket_id)
    code = link_code(link_key(life.shop.store.path.parent), ticket, series)
    life.write(f"/b/{code}", digits, life.her)
    life.write(f"/c/{token}/mail", {}, life.her)


def comeback(life: Life) -> None:
    """Asked how they are, back for another look, and the same boots again."""
    ticket_id, _, left, _ = pair(life)
    due = life.value(
        "SELECT max(id) FROM follow_ups WHERE ticket_id = ? AND kind = 'after-pickup'", ticket_id
    )
    life.write(f"/follow-ups/{due}", {"answer": "comes back"})
    last = life.value(
        "SELECT max(id) FROM follow_ups WHERE ticket_id = ? AND kind = 'not-right'", ticket_id
    )
    told = {"advice": "come-in", "note": "Bring them in.", "seen": f"{last}-0"}
    life.write(f"/tickets/{ticket_id}/not-right", told)
    life.write(f"/tickets/{ticket_id}/again", {})
    back = {"said": "it presses", f"boot-{left}": "13 7/8", f"leg-{left}": "", "pays": "guarantee"}
    life.write(f"/tickets/{ticket_id}/back", back)
