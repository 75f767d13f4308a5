"""Eight people who edit one row at the same moment: exactly one is saved, the others read both texts."""

from __future__ import annotations

import threading
from html import unescape

import pytest
from bad_till import Till
from whole_shop import WholeShop

from fitcounter.store import fits

PEOPLE = 8
SIXTEENTHS = [f"13 {n}/16" for n in (1, 3, 5, 7, 9, 11, 13, 15)]


def race(shop: WholeShop, rounds: int) -> str:
    """Rounds of eight edits that all saw the same version; each loser and the winner are a racing pair."""
    tills = [Till(shop, ("counter", "owner")[n % 2]) for n in range(PEOPLE)]
    fit_id = tills[0].fit_id
    path, usual = tills[0].usual("reading")
    start, done = threading.Barrier(PEOPLE + 1), threading.Barrier(PEOPLE + 1)
    version, answers = "", list[tuple[int, str]]([(0, "")] * PEOPLE)

    def edit(n: int) -> None:
        for turn in range(rounds):
            start.wait()
            sent = {**usual, "csrf_token": tills[n].token, "submission_id": f"race-{turn:05}-{n}", "version": version, "boot_left_2": SIXTEENTHS[n]}
            answer = tills[n].client.post(path, data=sent)
            answers[n] = (answer.status_code, unescape(answer.text))
            done.wait()

    threads = [threading.Thread(target=edit, args=(n,)) for n in range(PEOPLE)]
    for one in threads:
        one.start()
    pairs = 0
    wrong: list[str] = []
    for turn in range(rounds):
        version = str(fits.get(shop.store, fit_id).version)
        start.wait()
        done.wait()
        winners = [n for n, (code, _) in enumerate(answers) if code == 303]
        stored = shop.store.value("SELECT girth_text FROM boot_readings r JOIN items i ON i.id = r.item_id WHERE i.fit_id = ? AND i.side = 'left' ORDER BY height_um DESC", fit_id)
        if len(winners) != 1 or stored != SIXTEENTHS[winners[0]]:
            wrong.append(f"round {turn}: {[code for code, _ in answers]}, stored {stored}")
            continue
        for n, (code, text) in enumerate(answers):
            if n != winners[0]:
                pairs += 1
                if code != 409 or SIXTEENTHS[n] not in text or stored not in text:
                    wrong.append(f"round {turn}: {code}, own {SIXTEENTHS[n] in text}, theirs {stored in text}")
    for one in threads:
        one.join()
    assert wrong == [], wrong[:5]
    edits = shop.store.value("SELECT count(*) FROM audit WHERE what = 'measured' AND detail LIKE ?", f'%"fit": {fit_id},%')
    assert edits == rounds
    return f"{pairs} racing pairs from {PEOPLE} threads: each time one saved, the other 409 with both texts"


def test_of_eight_who_edit_at_once_one_is_saved_and_seven_read_both_texts(whole: WholeShop) -> None:
    print(race(whole, 5))


@pytest.mark.slow
def test_of_a_thousand_racing_pairs_exactly_one_wins_each(whole: WholeShop) -> None:
    print(race(whole, 150))
