"""Every figure of the owner's page leads to a list that comes to it, over all the invented shop."""

from __future__ import annotations

import csv
import re
from decimal import Decimal
from html import unescape

import pytest
from support.cast import Counter
from support.whole_shop import WholeShop

LINK = re.compile(r'<a href="(/book/figures/[^"]+)">([^<]+)</a>')
ROW = re.compile(r'<span class="row-b"><strong>[^<]*</strong>\s*<span>([^<]*)</span>')
TOTAL = re.compile(r'<p class="lead">[^<]*<strong>([^<]+)</strong>')
COUNT = re.compile(r'<span class="count">(\d+)</span>')
MONEY = re.compile(r"([−-]?)\$([\d,]+\.\d\d)")


def amount(text: str) -> Decimal:
    """The last sum that is said in a text."""
    sign, figures = MONEY.findall(text)[-1]
    return Decimal(figures.replace(",", "")) * (-1 if sign else 1)


@pytest.mark.parametrize(
    "days", ["first=2025-03-18&last=2026-03-17", "first=2026-03-01&last=2026-03-31", ""]
)
def test_every_figure_is_the_sum_of_the_list_it_leads_to(whole: WholeShop, days: str):
    owner = whole.signed_in("owner")
    page = owner.get(f"/book/figures?{days}").text
    links = LINK.findall(page)
    assert len(links) >= 15
    seen = set()
    for href, said in links:
        behind = owner.get(unescape(href)).text
        rows, total = ROW.findall(behind), TOTAL.findall(behind)[0]
        if "$" in said:
            assert amount(total) == amount(said), href
            assert sum((amount(one) for one in rows), Decimal(0)) == amount(said), href
            seen.add("money")
        elif said.isdigit():
            assert COUNT.findall(behind)[0] == said, href
            assert behind.count('<li><a class="row" href="/tickets/') == int(said), href
            seen.add("count")
        elif "days" in said:
            assert said in total, href
            each = [float(one.split(" ")[-2]) for one in rows]
            assert float(said.split(" ")[0]) == pytest.approx(sum(each) / len(each), abs=0.06)
            seen.add("days")
    assert {"money", "count"} <= seen


def test_the_figures_agree_with_the_accountants_file(whole: WholeShop):
    owner, span = whole.signed_in("owner"), "first=2025-03-18&last=2026-03-17"
    page = unescape(owner.get(f"/book/figures?{span}").text)
    file = owner.get(f"/book/income.csv?{span}").text.removeprefix("\ufeff")
    came = {"line": Decimal(0), "tax": Decimal(0), "paid": Decimal(0)}
    for row in csv.DictReader(file.splitlines()):
        kind = {"line": "line", "Tax included": "tax"}.get(row["row"], "paid")
        came[kind] += Decimal(row["amount"])
    assert amount(re.findall(r"Income: ([^ ]+)\.\s", page)[0]) == came["paid"]
    told = dict(LINK.findall(page))
    assert amount(told[f"/book/figures/work?{span}"]) == came["line"]
    assert amount(told[f"/book/figures/tax?{span}"]) == came["tax"] > 0


@pytest.mark.parametrize(
    "asked", ["first=2024-01-01&last=2026-01-01", "first=x", "first=2026-03-02&last=2026-03-01"]
)
def test_what_is_no_year_is_said(owner: Counter, asked: str):
    answer = owner.get(f"/book/figures?{asked}")
    assert answer.status_code == 422
    assert "Pick a first and a last day within one year." in answer.text


def test_the_figures_are_the_owners(counter: Counter, bench: Counter, owner: Counter):
    for path in ("/book/figures", "/book/figures/work"):
        assert counter.get(path).status_code == 403
        assert bench.get(path).status_code == 403
        assert owner.get(path).status_code == 200
    assert owner.get("/book/figures/profit").status_code == 404
    assert "first=2026-03-01" in owner.get("/book/figures").text
