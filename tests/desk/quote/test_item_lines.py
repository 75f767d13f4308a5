"""What an item came in for, priced from the list where it is called there just so."""

from __future__ import annotations

from dataclasses import replace

from support.ticket_rows import make_job

from fitcounter.desk.quote import item_lines, price_list
from fitcounter.desk.quote.price_list import EntryInput
from fitcounter.store import items
from fitcounter.store.database import Act, Store


def test_only_whole_names_of_the_list_have_its_price_and_days(store: Store, act: Act):
    job = make_job(store, act, state="counter")
    price_list.save(store, act, "dyed", EntryInput(what="Dyed", price_minor=2500, days=2))
    sized = EntryInput(what="Leather panel", price_minor=9000, size_minor=500, days=3)
    price_list.save(store, act, "panel", sized)
    bag, entries = items.get(store, job.bag), price_list.entries(store)

    def priced(jobs: str) -> tuple[list[int], int]:
        came = replace(bag, jobs=jobs)
        lines = item_lines.lines_of_item(entries, came)
        return [one.amount_minor for one in lines], item_lines.days_of_item(entries, came)

    assert priced("DYED") == ([2500], 2)
    assert priced("dyed, leather panel") == ([0], 0), "a panel goes by its size"
    assert priced("dye") == ([0], 0), "what is not called so is not guessed"
    assert priced("foot made longer") == ([0], 0), "not done here"
    assert priced("") == ([0], 0)
