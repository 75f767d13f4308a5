"""A life's steps at the bench: trees, the rounds of one pair, and what is done beside them."""

from __future__ import annotations

from support.counter_forms import new_job
from system.life import Life, picture
from system.life_pair import pair

from fitcounter.desk.bench.damage_seen_at_bench import OTHER_WORDS


def trees(life: Life) -> None:
    """A tree is added, measured, tagged, put in repair and back."""
    life.write("/bench/trees", {"label": "Z9", "side": "either", "counts": "turns"})
    life.write("/bench/trees", {"label": "Z8", "side": "left", "counts": "turns"})
    tree = life.value("SELECT id FROM trees WHERE label = 'Z8'")
    life.write(
        f"/bench/trees/{tree}",
        {
            "label": "Z8",
            "side": "left",
            "counts": "turns",
            "closed_setting": "0",
            "note": "the old one",
        },
    )
    life.write(f"/bench/trees/{tree}/measure", {"setting": "2", "height": "12", "girth": "14 1/2"})
    point = life.value("SELECT max(id) FROM tree_calibration WHERE tree_id = ?", tree)
    life.write(f"/bench/trees/{tree}/readings/{point}/strike", {})
    life.write(f"/bench/trees/{tree}/tag", {})
    life.write("/bench/trees/tags", {})
    life.write(f"/bench/trees/{tree}/state", {"state": "repair", "confirmed": "1"})
    life.write(f"/bench/trees/{tree}/state", {"state": "sound"})


def rounds(life: Life) -> None:
    """One boot goes on a tree, is turned up, left on, taken off, read, taken back, read again, and
    goes on once more.
    """
    ticket_id, fit_id, left, right = pair(life)
    life.write(f"/bench/hold/{fit_id}", {"hold_h": "24", "confirmed": "1"})
    life.write(f"/items/{left}/prepare", {"prepared": "conditioned", "prepared_with": "lanolin"})
    life.write(
        f"/items/{left}/put-on",
        {"tree": "Z9", "before": "13 5/8", "on_tree": "13 7/8", "mark": "12 1/2"},
    )
    life.write(f"/items/{left}/turn-up", {"girth": "14", "setting": "8"})
    life.write(f"/items/{left}/leave-on", {"until": "2026-03-20", "confirmed": "1"})
    life.write(f"/items/{left}/take-off", {"came_out": "eased"})
    life.on(days=2)
    life.write(f"/items/{left}/measure-again", {"rested": "13 7/8"})
    life.write(
        f"/items/{left}/undo",
        {"step_id": life.value("SELECT max(id) FROM steps WHERE item_id = ?", left)},
    )
    life.write(f"/items/{left}/measure-again", {"rested": "13 7/8"})
    life.write(f"/items/{left}/another-round", {})
    life.write(f"/items/{left}/put-on", {"tree": "Z9", "on_tree": "14", "prepared": "conditioned"})
    code = str(
        life.shop.store.value("SELECT code FROM tags WHERE item_id = ? AND died_at IS NULL", left)
    )
    life.on(days=2)  # its hold is over
    life.write("/bench/off", {"scan": code})
    life.on(days=2)
    life.write(f"/items/{left}/measure-again", {"rested": "13 7/8"})
    life.write(
        f"/items/{left}/finding",
        {"word": next(iter(OTHER_WORDS)), "place": "toe", "note": "shallow"},
    )
    life.write(f"/items/{left}/photos", {"moment": "after"}, make=picture)
    life.write(f"/items/{left}/done", {})
    life.write(f"/items/{left}/finish", {"shaper": "12"})
    life.write(f"/items/{left}/shelve", {"shelf": "C2", "shaper": "12"})
    life.write(f"/items/{right}/wait", {"waits_for": "customer"})
    life.write(f"/items/{right}/go-on", {})
    life.write(f"/items/{right}/stop", {"what": "a seam opened", "where_on": "calf"})
    incident = life.value("SELECT max(id) FROM incidents")
    life.write(f"/incidents/{incident}", {"told": "y", "agreed": "mended free", "settled": "y"})
    life.write(f"/items/{right}/go-on", {})
    life.write(f"/tickets/{ticket_id}/comes-twice", {})
    life.write(f"/items/{right}/pickup-day", {"day": "2026-05-20"})
    life.write(f"/items/{right}/further", {"state": "shelved"})


def beside_the_bench(life: Life) -> None:
    """The plan, days away, trees kept, tags exchanged and struck off, and a bag."""
    _, _, left, right = pair(life)
    life.write("/bench/plan", {})
    life.write("/bench/away", {"from_day": "2026-09-01", "to_day": "2026-09-04", "why": "fair"})
    life.write(f"/bench/away/{life.value('SELECT max(id) FROM closures')}/strike", {})
    life.write(
        "/bench/slots", {"words": "Ada", "sides": "pair", "first": "2026-05-04", "goes": "2"}
    )
    slot = life.value("SELECT max(id) FROM bookings WHERE kind = 'slot'")
    life.write(f"/bench/slots/{slot}/strike", {})
    life.write(
        "/promise", {"leather": "full-grain", "short": "1/2", "sides": "pair", "name": "Ada"}
    )
    other = str(
        life.shop.store.value("SELECT code FROM tags WHERE item_id = ? AND died_at IS NULL", right)
    )
    life.write(f"/items/{left}/tag", {"code": other})
    life.write(f"/items/{left}/tag/new", {})
    life.write(f"/items/{left}/tag/swap/{right}", {"confirmed": "y"})
    life.write("/papers", {"sets": "1"})
    free = str(
        life.shop.store.value(
            "SELECT code FROM tags WHERE item_id IS NULL AND tree_id IS NULL AND died_at IS NULL"
        )
    )
    life.write(f"/tags/{free}/strike", {})
    life.owner.post("/new", **new_job(phone="(412) 555-0177", arrives="2026-12-01"))
    coming = life.value("SELECT max(id) FROM items WHERE state = 'expected'")
    life.write(f"/items/{coming}/arrive", {})
    bag = life.value("SELECT max(id) FROM items WHERE work = 'other' AND state = 'queued'")
    life.write(f"/items/{bag}/start-work", {})
    life.write(f"/items/{bag}/work-done", {"shelf": "D1"})
