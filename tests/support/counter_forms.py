"""How a job comes in at the counter, for tests that begin there: the forms with their usual words,
and the pages behind them.
"""

from __future__ import annotations

import re
import secrets
from html import unescape

from support.cast import Counter
from werkzeug.test import TestResponse

GAP = (
    ("3/8", "12 7/8"),
    ("5/8", "13 5/8"),
    ("1/2", "14"),
)  # gap and boot girth at 10 1/2, 12 1/2, 14 1/2, lowest first


def fresh() -> str:
    return secrets.token_urlsafe(16)


def new_job(**changes: object) -> dict[str, object]:
    """The form of New job as it is usually sent."""
    return {
        "submission_id": fresh(),
        "draft": fresh(),
        "phone": "(412) 555-0142",
        "name": "Marisol Okafor-Lind",
        "needed_by": "2026-05-25",
        "boots": "pair",
        "worn_with": "sheer",
        "material": "supple-full-grain",
        "closure": "zip",
        "lining": "leather",
        "nothing_seen": "y",
        "description": "chestnut, gold buckle",
        "target": "gap",
        **changes,
    }


def sheet(target: str = "gap", **changes: object) -> dict[str, object]:
    """A measuring sheet as it is sent, without its readings."""
    return {
        "submission_id": fresh(),
        "target": target,
        "unit": "in",
        "over": "sheer",
        "posture": "standing",
        "part_of_day": "evening",
        "ease": "close",
        "method": "inside",
        "heights_from": "heel-seat",
        "height_0": "10 1/2",
        "height_1": "12 1/2",
        "height_2": "14 1/2",
        **changes,
    }


def gap_sheet(**changes: object) -> dict[str, object]:
    """The same, with gaps and girths on both sides."""
    cells = {
        f"gap_{side}_{row}": gap for row, (gap, _) in enumerate(GAP) for side in ("left", "right")
    }
    cells |= {
        f"boot_{side}_{row}": boot
        for row, (_, boot) in enumerate(GAP)
        for side in ("left", "right")
    }
    return {**sheet(), **cells, **changes}


def taken_in(counter: Counter, **changes: object) -> int:
    """Opens a ticket through New job and returns the fit to be measured."""
    counter.get("/new")
    answer = counter.post("/new", **new_job(**changes))
    assert answer.status_code == 303, errors(answer)
    return int(answer.headers["Location"].split("/")[2])


def measured(counter: Counter, **changes: object) -> int:
    """… and measured by the gap."""
    fit_id = taken_in(counter, **changes)
    counter.get(f"/fits/{fit_id}/measure")
    answer = counter.post(f"/fits/{fit_id}/measure", **gap_sheet())
    assert answer.status_code == 303, errors(answer)
    return fit_id


def agreement(counter: Counter, ticket_id: int, **changes: object) -> dict[str, object]:
    """What the Agree page offers, as it is sent back with her yes."""
    page = counter.get(f"/tickets/{ticket_id}/agree").text
    lines: dict[str, object] = {
        name: unescape(value)
        for name, value in re.findall(r'name="(line_\d+_\w+)"[^>]*? value="([^"]*)"', page)
    }
    kept = {name: value(page, name) for name in ("name", "promise", "version")}
    paid = {"deposit": "27", "method": "cash"}
    return {**lines, **kept, **paid, "submission_id": fresh(), "agreed": "y", **changes}


def agreed(counter: Counter, **changes: object) -> int:
    """… and agreed; returns the ticket."""
    fit_id = measured(counter, **changes)
    ticket_id = int(
        value(counter.get(f"/fits/{fit_id}/verdict").text, "ticket", r'href="/tickets/(\d+)/agree"')
    )
    answer = counter.post(f"/tickets/{ticket_id}/agree", **agreement(counter, ticket_id))
    assert answer.status_code == 303, errors(answer)
    return ticket_id


def value(page: str, name: str, pattern: str = "") -> str:
    """What stands in a field of a page."""
    found = re.search(pattern or rf'name="{name}"[^>]*? value="([^"]*)"', page)
    assert found, name
    return unescape(found.group(1))


def errors(answer: TestResponse) -> list[str]:
    """The sentences at the fields, and the top of a form."""
    top = re.findall(r'class="errors".*?</div>', answer.text, re.DOTALL)
    found = re.findall(r'class="error"[^>]*>(.*?)</p>', answer.text, re.DOTALL) + top
    return [unescape(re.sub(r"<[^>]+>", "", one)).strip() for one in found]
