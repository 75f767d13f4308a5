"""The owner's book by its page: pictures with tables, nothing for anybody else."""

from __future__ import annotations

from support.cast import Clock, Counter
from support.ticket_rows import make_job

from fitcounter.store.database import Act, Store


def test_an_empty_book_says_so_in_words(owner: Counter):
    page = owner.get("/book").text
    for words in (
        "No boot is finished yet",
        "No finished boot has a counted rested reading",
        "No boot has come back",
        "The law may ask for a notice",
    ):
        assert words in page


def test_a_boot_with_one_counted_round_is_in_picture_and_table(owner: Counter, store: Store, clock):
    job = make_job(store, Act(clock.now, 1), state="out")
    with store.write_tx():
        store.db.execute("UPDATE items SET material = 'nubuck' WHERE id = ?", [job.left])
        row_id = store.insert(
            "rounds",
            item_id=job.left,
            n=1,
            prepared="conditioned",
            before_um=360000,
            on_at="2026-03-01T10:00:00Z",
            off_at="2026-03-02T10:00:00Z",
            rested_um=370000,
            rested_method="outside",
            rested_at="2026-03-03T12:00:00Z",
        )
        store.insert("turns", round_id=row_id, n=1, at="2026-03-01T10:00:00Z", girth_um=380000)
    page = owner.get("/book").text
    assert "by 1 boot of yours" in page
    assert '<th scope="row">nubuck (handbook, so far)</th>\n<td>1</td>' in page


def test_a_figure_leads_to_its_boots_and_they_to_their_tickets(
    owner: Counter, counter: Counter, store: Store, clock: Clock
):
    job = make_job(store, Act(clock.now, 1), state="out")
    with store.write_tx():
        made = {"made_at": "2026-03-01T10:00:00Z", "assessment": "{}", "tier": "stages"}
        days = {"likely": 2, "eight_in_ten": 3, "promise_day": "2026-03-20"}
        store.insert("predictions", item_id=job.left, **made, **days)
    page = owner.get("/book").text
    assert 'href="/book/boots/fewer"' in page
    behind = owner.get("/book/boots/fewer?estimate=2").text
    assert f'href="/tickets/{job.ticket_id}"' in behind
    assert "estimate 2, result 0" in behind
    for other in ("/book/boots/more", "/book/boots/all?estimate=3", "/book/boots/stopped"):
        assert "No boot is counted here." in owner.get(other).text
    assert owner.get("/book/boots/lost").status_code == 404
    assert counter.get("/book/boots/all").status_code == 403


def test_the_book_is_the_owners(counter: Counter, bench: Counter, stranger: Counter):
    assert counter.get("/book").status_code == 403
    assert bench.get("/book/said-and-took.csv").status_code == 403
    assert stranger.get("/book").status_code == 303


def test_estimate_and_result_come_as_a_table(owner: Counter):
    answer = owner.get("/book/said-and-took.csv")
    assert answer.mimetype == "text/csv"
    assert answer.text.lstrip("\ufeff").startswith("boot,estimated on,")
