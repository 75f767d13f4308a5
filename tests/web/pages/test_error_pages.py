"""Whatever goes wrong is a page with one sentence: also where the file itself cannot be read."""

from __future__ import annotations

import pytest
from support.damaged_file import damage_pages
from support.opened_anew import opened_anew
from support.whole_shop import WholeShop, addresses, rules

from fitcounter.store.database import dbapi

SENT_IN_PARTS = {"owner.income_table", "owner.said_and_took"}
SENTENCE = "The shop’s data file is damaged. Stop the program, then bring back the last good copy"


@pytest.mark.parametrize("seed", range(3))
def test_no_page_of_a_damaged_file_is_a_mistake_of_the_program(
    whole: WholeShop, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    """Every address answers with its page, or with the sentence; a table that had begun to be sent
    breaks off, so that half of it passes for no whole.
    """
    opened_anew(monkeypatch)
    owner = whole.signed_in("owner")
    whole.store.close()
    damage_pages(whole.store.path, seed)
    codes: dict[int, int] = {}
    for rule in rules(whole.app):
        if "GET" in (rule.methods or ()):
            for address in addresses(whole, rule):
                try:
                    answer = owner.get(address)
                except dbapi.DatabaseError:
                    assert rule.endpoint in SENT_IN_PARTS, address
                    continue
                codes[answer.status_code] = codes.get(answer.status_code, 0) + 1
                assert answer.status_code != 500, address
                if answer.status_code == 503:
                    assert SENTENCE in answer.text, address
                answer.close()
    assert codes[200] >= 1, "what asks the file for nobody's language still answers"
    assert seed or codes[503] > 30


def test_a_form_that_meets_a_damaged_page_is_shown_again_with_what_was_typed(
    whole: WholeShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened_anew(monkeypatch)
    counter = whole.signed_in("counter")
    page = counter.get("/items/44").text
    token = page.split('name="csrf-token" content="')[1].split('"')[0]
    whole.store.close()
    damage_pages(whole.store.path)
    answer = counter.post("/tickets/22/call", data={"csrf_token": token, "note": "asked for Ada"})
    assert answer.status_code == 503
    assert SENTENCE in answer.text
    assert "asked for Ada" in answer.text
