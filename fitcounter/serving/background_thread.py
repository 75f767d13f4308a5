"""The thread beside the server that looks, every few seconds, at what the shop's machine has to do
by itself.

It has its own connection to the shop's file, shares nothing with the threads that answer, and
outlives whatever goes wrong.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from functools import partial

from fitcounter.desk.common.translation import say
from fitcounter.desk.data import nightly_copy_and_evening_sheet as by_itself
from fitcounter.desk.messages import mail_retries, push_retries
from fitcounter.desk.shop import open_store
from fitcounter.settings import Settings

LOOK_S = 20
LET_FINISH_S = 10
LOOK_FOR_DUE = timedelta(minutes=15)


def now_utc() -> datetime:
    return datetime.now(UTC)


@contextmanager
def keeping(
    settings: Settings, clock: Callable[[], datetime] = now_utc, look_s: float = LOOK_S
) -> Iterator[None]:
    """While the block runs, what is due is done. look_s: seconds between two looks. At its end a
    duty under way may finish.

    One connection to the file stays throughout: no request is then the last to leave, which would
    bring the log in each time.
    """
    stays = open_store(settings.data_dir / "shop.db")
    enough = threading.Event()
    thread = threading.Thread(
        target=_look_on, args=(settings, clock, look_s, enough), name="keeper", daemon=True
    )
    thread.start()
    try:
        with by_itself.while_open(settings.data_dir):
            yield
    finally:
        enough.set()
        thread.join(LET_FINISH_S)
        stays.close()


def _look_on(
    settings: Settings, clock: Callable[[], datetime], look_s: float, enough: threading.Event
) -> None:
    """Messages first: who has boots on waits for them. One that goes wrong keeps none of the others
    from being done.
    """
    place = mail_retries.MailPlace(settings.data_dir, settings.base_url)
    looked: datetime | None = None
    while not enough.wait(look_s):
        now = clock()
        again = looked is None or not timedelta() <= now - looked < LOOK_FOR_DUE
        looked = now if again else looked
        for duty in (
            partial(push_retries.send_due, place, now, of_bench=again),
            partial(by_itself.keep, settings.data_dir, settings.copies, now),
            partial(mail_retries.send_due, place, now, look_for_due=again),
        ):
            _done(duty)


def _done(duty: Callable[[], object]) -> None:
    try:
        duty()
    except Exception as error:  # even the note of it could not be written; the shop stays open
        print(
            say(
                "What the computer does by itself stopped with {error}; it is tried again.",
                error=type(error).__name__,
            ),
            file=sys.stderr,
        )
