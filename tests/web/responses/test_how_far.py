"""Whoever waits for long work at a page sees how far it is, and then what came of it; nobody else
sees anything of it.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator

import pytest
from support.cast import Clock, Counter
from support.counter_forms import fresh
from support.processes import comes_true
from werkzeug.test import TestResponse

from fitcounter import how_far as work
from fitcounter.desk import shop
from fitcounter.desk.data import export_and_import
from fitcounter.desk.documents import rulers_and_slips
from fitcounter.desk.intake import paper_list
from fitcounter.desk.shop import Act, Store
from fitcounter.errors import NoRoom, Unavailable, message
from fitcounter.web.responses import how_far

PAGE = {"Accept": "text/html,application/xhtml+xml"}
LIST = "number,name,phone,what,where,promised\n42,Tobias Renwick,,left boot,shelf C2,2026-03-10\n"


class Held:
    """Work that goes on until it is told to end; what it tells is told for it."""

    def __init__(self) -> None:
        self.begun, self.may_end, self.followed = (threading.Event() for _ in range(3))
        self.told: tuple[str, int, int] = (message("Making tags"), 5, 12)
        self.error: Exception | None = None

    def before(self, real: Callable[..., object]) -> Callable[..., object]:
        """The real work, done when it may end."""

        def held(*given: object, **named: object) -> object:
            self.begun.set()
            work.tell(*self.told)
            self.followed.set()
            assert self.may_end.wait(20)
            if self.error:
                raise self.error
            return real(*given, **named)

        return held


@pytest.fixture
def held(monkeypatch: pytest.MonkeyPatch) -> Iterator[Held]:
    """Nobody has patience; the rulers, the list and the whole shop take as long as is wanted."""
    one = Held()
    monkeypatch.setattr(how_far, "PATIENCE_S", 0)
    for room, name in (
        (rulers_and_slips, "rulers_pdf"),
        (paper_list, "put_in"),
        (export_and_import, "take_everything"),
    ):
        monkeypatch.setattr(room, name, one.before(getattr(room, name)))
    yield one
    one.may_end.set()


def asked(who: Counter, path: str = "/papers/rulers.pdf") -> str:
    answer = who.get(path, headers=PAGE)
    assert answer.status_code == 303, answer.text
    return answer.location


def ended(who: Counter, place: str, held: Held) -> TestResponse:
    """What the page shows once the work is done."""
    held.may_end.set()
    found: list[TestResponse] = []

    def over() -> bool:
        found.append(who.get(place, headers=PAGE))
        return b"http-equiv" not in found[-1].data

    assert comes_true(over)
    return found[-1]


def test_the_page_says_how_far_it_is_refreshes_itself_and_becomes_the_paper(
    bench: Counter, held: Held
):
    place = asked(bench)
    assert held.followed.wait(10)
    text = bench.get(place).text
    assert '<meta http-equiv="refresh" content="2">' in text
    assert "<title>Making tags: 5 of 12 – " in text
    assert '<progress aria-labelledby="h-far" value="5" max="12">' in text
    assert 'role="status">Making tags: 5 of 12<' in text
    paper = ended(bench, place, held)
    assert (paper.status_code, paper.mimetype) == (200, "application/pdf")
    assert 'filename="rulers.pdf"' in paper.headers["Content-Disposition"]
    assert bench.get(place).data == paper.data, "a reader of papers may ask again"


def test_it_says_so_in_the_language_of_whoever_waits(
    bench: Counter, held: Held, store: Store, clock: Clock
):
    shop.choose(store, Act(clock.now), locale="es_US")
    held.told = (paper_list.READING, 30_000, 120_000)
    place = asked(bench)
    assert held.followed.wait(10)
    assert "<title>Leyendo los trabajos en papel: 25" in bench.get(place).text


def test_what_is_one_thing_has_no_bar(bench: Counter, held: Held):
    held.told = (message("Making the paper"), 0, 1)
    place = asked(bench)
    assert held.followed.wait(10)
    text = bench.get(place).text
    assert "Making the paper" in text
    assert "<progress" not in text


def test_two_people_wait_for_their_own_and_nobody_sees_anothers(
    bench: Counter, counter: Counter, stranger: Counter, held: Held
):
    mine, theirs = asked(bench), asked(counter)
    assert mine != theirs
    assert asked(bench) == mine, "asked again, it is not made twice"
    for who, place, code in (
        (counter, mine, 404),
        (bench, theirs, 404),
        (stranger, mine, 303),
        (bench, "/how-far/none", 404),
    ):
        assert who.get(place).status_code == code
    assert "begin it again" in counter.get(mine).text
    assert ended(bench, mine, held).mimetype == "application/pdf"
    assert ended(counter, theirs, held).mimetype == "application/pdf"


def test_a_script_waits_to_the_end_itself(bench: Counter, held: Held):
    held.may_end.set()
    assert bench.get("/papers/rulers.pdf", headers={"Accept": "*/*"}).mimetype == "application/pdf"


def test_what_fails_or_dies_is_a_sentence_and_may_be_begun_again(bench: Counter, held: Held):
    held.error = Unavailable("This paper could not be made. Try again.")
    place = asked(bench)
    page = ended(bench, place, held)
    assert page.status_code == 503
    assert "This paper could not be made." in page.text
    held.error = None
    assert ended(bench, asked(bench), held).mimetype == "application/pdf"


def test_a_list_is_put_in_once_and_says_so(counter: Counter, held: Held, store: Store):
    counter.get("/already/list")
    sent = {"lines": LIST, "submission_id": fresh(), "csrf_token": counter.token()}
    first = counter.client.post("/already/list/put-in", data=sent, headers=PAGE)
    again = counter.client.post("/already/list/put-in", data=sent, headers=PAGE)
    assert first.location == again.location, "a second tap waits for the first"
    assert ended(counter, first.location, held).location == "/"
    assert "1 job is added" in counter.get("/").text
    assert store.value("SELECT count(*) FROM tickets") == 1


def test_what_was_typed_is_on_the_page_that_says_why_it_is_not_saved(
    counter: Counter, held: Held, store: Store
):
    held.error = NoRoom("The disk is full, so nothing was saved.")
    counter.get("/already/list")
    sent = {"lines": LIST, "submission_id": fresh(), "csrf_token": counter.token()}
    place = counter.client.post("/already/list/put-in", data=sent, headers=PAGE).location
    page = ended(counter, place, held)
    assert page.status_code == 507
    assert "Tobias Renwick" in page.text
    assert '<form method="post" action="/already/list/put-in"' in page.text
    assert store.value("SELECT count(*) FROM tickets") == 0


def test_the_whole_shop_waits_as_a_file_that_the_owner_alone_may_take(
    owner: Counter, counter: Counter, held: Held, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr("fitcounter.web.shop.whole_shop.SHORT_PATIENCE_S", 0)
    owner.get("/shop/everything")
    sent = {"submission_id": fresh(), "csrf_token": owner.token()}
    place = owner.client.post("/shop/everything/json", data=sent, headers=PAGE).location
    page = ended(owner, place, held)
    assert "The file is ready" in page.text
    assert "http-equiv" not in page.text
    file = owner.get(f"{place}?take=1")
    assert file.mimetype == "application/json"
    assert file.content_length == len(file.data)
    assert b"a whole shop of fitcounter" in file.data
    assert owner.get(f"{place}?take=1").data == file.data
    assert counter.get(f"{place}?take=1").status_code == 404


def test_it_is_forgotten_after_a_while(bench: Counter, held: Held, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(how_far, "KEPT_S", 0.05)
    place = asked(bench)
    held.may_end.set()
    assert comes_true(lambda: bench.get(place).status_code == 404)


def test_more_than_a_few_at_once_are_asked_to_come_again(
    bench: Counter, held: Held, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(how_far, "MOST", 1)
    asked(bench)
    answer = bench.get("/papers/rulers.pdf?again", headers=PAGE)
    assert answer.status_code == 503
    assert "Others are waiting too." in answer.text
