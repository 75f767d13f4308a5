"""The line about e-mails on the health page."""

from __future__ import annotations

from pathlib import Path

from support.ticket_rows import Job

from fitcounter.desk.health import mail
from fitcounter.desk.messages import mail_account
from fitcounter.desk.messages.mail_account import TypedAccount
from fitcounter.store import mails
from fitcounter.store.database import Act, Store


def test_it_is_off_then_without_a_password_then_waits_for_a_server(
    store: Store, act: Act, job: Job, tmp_path: Path
):
    line = mail.look(store, tmp_path)
    assert (line.words, line.good) == ("off: texts go from the shop’s own phone", True)

    typed = {"host": "localhost", "port": "465", "security": "tls", "user": "shop"}
    own = {"sender": "shop@example.org", "kinds": ("ready",)}
    mail_account.keep(store, act, TypedAccount(**typed, **own, password=""), tmp_path)
    line = mail.look(store, tmp_path)
    assert (line.words, line.good) == ("none sent yet", False)
    assert "no password" in line.todo

    mail_account.keep(store, act, TypedAccount(**typed, **own, password="a password"), tmp_path)
    with store.write_tx():
        mails.add(store, job.ticket_id, "ready", "ready-1", act.at, act.at)
        mails.add(store, job.ticket_id, "ready", "ready-2", act.at, act.at)
    first, _ = mails.QUEUE.due(store, act.at, 2)
    mails.QUEUE.finish(store, first, "sent", act.at)
    line = mail.look(store, tmp_path)
    assert line.words.startswith("last sent Tuesday, March 17")
    assert line.words.endswith(", 1 waits")
    assert line.good
