"""One at a time, in the order they came, and whoever loses patience leaves the line whole."""

from __future__ import annotations

import threading
import time

from fitcounter.papers.waiting_line import WaitingLine


def wait_for(line: WaitingLine, count: int) -> None:
    while len(line._line) < count:
        time.sleep(0.001)


def test_everybody_is_let_in_alone_and_in_the_order_they_came() -> None:
    line, order, inside = WaitingLine(30), [], []
    assert line.come(0)

    def visit(n: int) -> None:
        assert line.come(30)
        inside.append(n)
        assert len(inside) == 1
        order.append(n)
        inside.remove(n)
        line.go()

    people = [threading.Thread(target=visit, args=(n,)) for n in range(20)]
    for n, person in enumerate(people):
        person.start()
        wait_for(line, n + 2)
    line.go()
    for person in people:
        person.join()
    assert order == list(range(20))
    assert line.come(0)


def test_who_loses_patience_leaves_and_the_next_comes_in() -> None:
    line = WaitingLine(30)
    assert line.come(0)
    assert not line.come(0.01)
    came: list[bool] = []
    last = threading.Thread(target=lambda: came.append(line.come(30)))
    last.start()
    wait_for(line, 2)
    assert not line.come(0)
    line.go()
    last.join()
    assert came == [True]
    line.go()
    assert line.come(0)


def test_who_waits_can_be_sent_home_and_who_is_inside_stays() -> None:
    line = WaitingLine(30)
    assert line.come(0)
    came: list[bool] = []
    people = [threading.Thread(target=lambda: came.append(line.come(30))) for _ in range(3)]
    for person in people:
        person.start()
    wait_for(line, 4)
    line.send_home()
    for person in people:
        person.join()
    assert came == [False] * 3
    assert not line.come(0)
    line.go()
    assert line.come(0)


def test_a_full_line_takes_nobody_and_does_not_let_them_wait() -> None:
    line = WaitingLine(2)
    assert line.come(0)
    second = threading.Thread(target=line.come, args=(30,))
    second.start()
    wait_for(line, 2)
    assert not line.come(30)
    line.go()
    second.join()
    line.go()
    assert line.come(0)
