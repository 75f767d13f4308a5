"""How the e-mails go, for the health page and beside the account."""

from __future__ import annotations

from pathlib import Path

from fitcounter.desk.common.translation import say, say_n, spoken
from fitcounter.desk.health.line import HealthLine
from fitcounter.desk.messages import mail_account, mail_wanted
from fitcounter.desk.shop import read
from fitcounter.errors import FitCounterError
from fitcounter.store import mails
from fitcounter.store.database import Store, utc_time


def look(store: Store, data_dir: Path) -> HealthLine:
    """Off, or when the last one went out, how many wait, and what is wrong."""
    what, account = say("E-mail to customers"), mail_account.of_shop(store)
    if account is None:
        return HealthLine(what, say("off: texts go from the shop’s own phone"))
    try:
        held = mail_account.password(data_dir)
    except FitCounterError as error:
        return HealthLine(what, say("waiting"), error.sentence)
    todo = mail_wanted.fault_words(mails.last_fault(store))
    if account.user and not held:
        todo = mail_wanted.fault_words("no-password")
    sent, waiting = mails.last(store, "sent"), mails.waiting(store)
    words = say("none sent yet")
    if sent is not None and sent.done_at:
        when = spoken().moment(read(store).local(utc_time(sent.done_at)))
        words = say("last sent {when}", when=when)
    if waiting:
        words += ", " + say_n("{count} waits", "{count} wait", waiting)
    return HealthLine(what, words, todo)
