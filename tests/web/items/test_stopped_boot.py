"""Something went wrong: the boot stops, a record is opened, and once that is settled the work goes
on.
"""

from __future__ import annotations

from support.bench_cast import Pair
from support.cast import Clock, Counter
from support.item_steps import somebody_id, state, step

from fitcounter.store import rounds
from fitcounter.store.database import Store


def test_something_went_wrong_stops_the_boot_and_opens_a_record(
    bench: Counter, store: Store, boots: Pair
) -> None:
    """A boot on its tree comes off, stops, and the record holds what was said; going on leads back
    to where it stood.
    """
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    assert step(bench, boots.left, "stop", what="grain whitened", where_on="inner calf") == 303

    assert state(store, boots.left) == "stopped"
    assert "Stopped: grain whitened. Ask the customer" in " ".join(
        bench.get(f"/items/{boots.left}").text.split()
    )
    assert store.rows("SELECT what, where_on FROM incidents") == [
        {"what": "grain whitened", "where_on": "inner calf"}
    ]
    assert store.value("SELECT count(*) FROM bookings WHERE item_id = ?", boots.left) == 0
    assert "grain whitened" not in str(store.rows("SELECT detail FROM audit"))


def test_a_stopped_boot_goes_on_only_when_what_went_wrong_is_settled(
    bench: Counter, store: Store, boots: Pair, clock: Clock
) -> None:
    """Until then its page leads to the record; afterwards it rests, as it came off its tree, and
    its reading belongs to that round.
    """
    step(bench, boots.left, "put-on", tree="4", before="14 3/8", on_tree="14 7/8")
    clock.on(hours=5)
    step(bench, boots.left, "stop", what="grain whitened")
    page = bench.get(f"/items/{boots.left}").text
    assert "Fix or agree" in page
    assert ">Continue the work<" not in page
    assert "Fix or agree" in bench.get(f"/bench/stand?boot={boots.left}").text
    assert step(bench, boots.left, "go-on") == 422
    assert "is not settled yet" in bench.pages[-1]

    incident_id = store.value("SELECT id FROM incidents")
    bench.get(f"/incidents/{incident_id}")
    assert (
        bench.post(
            f"/incidents/{incident_id}",
            submission_id=somebody_id(),
            agreed="go on",
            told="y",
            settled="y",
        ).status_code
        == 303
    )
    assert "Continue the work" in bench.get(f"/items/{boots.left}").text
    assert step(bench, boots.left, "go-on") == 303
    assert state(store, boots.left) == "resting"
    clock.on(hours=25)
    assert step(bench, boots.left, "measure-again", rested="14 9/16") == 303
    assert [one.rested_text for one in rounds.of_item(store, boots.left)] == ["14 9/16"]
