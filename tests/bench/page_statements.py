"""How many statements each page asks the shop's file: `python tests/bench/page_statements.py`.

The owner looks at every page of the invented shop: once unseen, as on a server that has been open
for a while, and once counted. Prints the table, most statements first: the page, how many, and how
often the commonest of them came, values left out. A page that asks the same again and again asks
once for each of its rows, and waits the longer the more there are.

Exits 1 when a page asks one and the same more than MOST times.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
import pytest
from support.query_plans import told, without_values
from support.whole_shop import NOW, WholeShop, add_what_it_lacks, addresses, open_copy, rules

from fitcounter.desk.demo import scenario

MOST = 12


def statements_of_pages(whole: WholeShop, patch: pytest.MonkeyPatch) -> dict[str, Counter[str]]:
    """The rule of every page → its statements, each with how often it was asked."""
    owner, found = whole.signed_in("owner"), {}
    for rule in rules(whole.app):
        if "GET" not in (rule.methods or ()):
            continue
        address = next(addresses(whole, rule))
        first = owner.get(address)
        if first.status_code == 200 and first.mimetype == "text/html":
            asked: list[str] = []
            with told(patch, asked.append):
                owner.get(address)
            found[rule.rule] = Counter(map(without_values, asked))
    return found


def main() -> int:
    with tempfile.TemporaryDirectory() as where, pytest.MonkeyPatch.context() as patch:
        played = Path(where) / "played"
        played.mkdir()
        scenario.load(played, NOW)
        add_what_it_lacks(played)
        whole = open_copy(played, Path(where) / "whole")
        found = statements_of_pages(whole, patch)
        whole.store.close()
    over = 0
    print("| page | statements | the commonest, times |\n|---|---|---|")
    for page, asked in sorted(found.items(), key=lambda one: -one[1].total()):
        if asked:
            statement, times = asked.most_common(1)[0]
            print(f"| `{page}` | {asked.total()} | {times} |")
            if times > MOST:
                over += 1
                print(f"OVER {page} asked {times} times: {statement}", file=sys.stderr)
    return int(over > 0)


if __name__ == "__main__":
    sys.exit(main())
