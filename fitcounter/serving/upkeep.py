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

from fitcounter.desk.common.translation import say
from fitcounter.desk.data import upkeep as by_itself
from fitcounter.desk.messages import mail_tries
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
    looked: datetime | None = None
    while not enough.wait(look_s):
        try:
            by_itself.keep(settings.data_dir, settings.copies, clock())
            looked = _send_mail(settings, clock(), looked)
        except Exception as error:  # even the note of it could not be written; the shop stays open
            print(
                say(
                    "What the computer does by itself stopped with {error}; it is tried again.",
                    error=type(error).__name__,
                ),
                file=sys.stderr,
            )


def _send_mail(settings: Settings, now: datetime, looked: datetime | None) -> datetime:
    """Sends the e-mails that are due, and now and then looks for those that only a day makes due.

    looked: when that was last done. Returns when it is done now.
    """
    again = looked is None or not timedelta() <= now - looked < LOOK_FOR_DUE
    place = mail_tries.MailPlace(settings.data_dir, settings.base_url)
    mail_tries.send_due(place, now, look_for_due=again)
    return now if again or looked is None else looked
