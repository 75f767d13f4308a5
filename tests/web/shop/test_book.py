"""The owner's book by its page: pictures with tables, nothing for anybody else."""

from __future__ import annotations

from support.cast import Counter
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


def test_the_book_is_the_owners(counter: Counter, bench: Counter, stranger: Counter):
    assert counter.get("/book").status_code == 403
    assert bench.get("/book/said-and-took.csv").status_code == 403
    assert stranger.get("/book").status_code == 303


def test_estimate_and_result_come_as_a_table(owner: Counter):
    answer = owner.get("/book/said-and-took.csv")
    assert answer.mimetype == "text/csv"
    assert answer.text.lstrip("\ufeff").startswith("boot,estimated on,")
