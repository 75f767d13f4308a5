"""Setting up the off-site copy: it is tried out before it is kept, and every change is in the
audit.
"""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from fitcounter.desk.common.files import in_words
from fitcounter.desk.common.translation import told
from fitcounter.desk.data import off_site_copy as data_replica
from fitcounter.desk.data import off_site_settings, take_over
from fitcounter.desk.data.off_site_settings import FOLDER, S3, SFTP, OffSite
from fitcounter.errors import BadInput, NotFound, Unavailable
from fitcounter.papers.own_process import NETWORK
from fitcounter.store import job_log, remote_files, sftp_known_host
from fitcounter.store.database import Act, Store, Written

SECRETS = ("key", "secret")


def set_up(store: Store, act: Act, data_dir: Path, kind: str, typed: Mapping[str, str]) -> OffSite:
    """Tries out what was typed for one kind, keeps it, and returns it.

    The keys of a store that are left empty stay those of before. Raises BadInput with the field,
    or a sentence that says what did not work; then nothing has changed.
    """
    before = off_site_settings.read(data_dir)
    fields = dict(typed)
    if kind == S3 and before and before.kind == S3:
        same = before.host == fields.get("host", "").strip() and before.bucket == fields["bucket"]
        for name in SECRETS:
            fields[name] = fields.get(name) or (getattr(before, name) if same else "")
    wanted = off_site_settings.from_fields(kind, fields)
    if kind == SFTP:
        same = before is not None and (before.host, before.port) == (wanted.host, wanted.port)
        # another computer has another key; that of the one set up before stays until it is another
        if not same:
            sftp_known_host.forget_host(data_dir)
    _try_out(wanted, data_dir)
    try:
        with in_words():
            draft = off_site_settings.draft(data_dir, wanted)
        with off_site_settings.changed_or_as_before(data_dir):
            store.once(act, "off_site", lambda: _change(data_dir, draft, wanted.where))
    finally:  # what was not kept leaves no keys behind
        off_site_settings.drop_draft(data_dir)
    return wanted


def _change(data_dir: Path, draft: Path | None, where: str) -> Written:
    """As part of what is written: a file that cannot be changed changes nothing."""
    with in_words():
        (data_dir / job_log.SECOND).unlink(missing_ok=True)
        if draft is None:
            off_site_settings.forget(data_dir)
        else:
            off_site_settings.keep(data_dir, draft)
    return Written(detail={"where": where})


def still_here(data_dir: Path) -> None:
    """Raises Conflict where another computer has taken the shop over. A place that cannot be asked
    now is asked again while the shop is served.
    """
    take_over.refuse(data_dir)
    place = off_site_settings.read(data_dir)
    if place is None:
        return
    there = off_site_settings.local_folder(data_dir, place.where) / take_over.FILE
    if place.kind != FOLDER:
        there.parent.mkdir(mode=0o700, exist_ok=True)
        there.unlink(missing_ok=True)
        with suppress(Unavailable, NotFound):
            NETWORK.do(remote_files.fetch, place, data_dir, take_over.FILE, there)
        NETWORK.end()
    held = take_over.read(there)
    if held is not None:
        take_over.check(data_dir, held)


def _try_out(wanted: OffSite, data_dir: Path) -> None:
    """Raises BadInput where the place refuses, because another may be typed."""
    folder = Path(wanted.folder)
    try:
        if wanted.kind != FOLDER:
            NETWORK.do(remote_files.try_out, wanted, data_dir)
            return
        data_replica.check(data_dir, folder)
    except Unavailable as error:
        raise BadInput(told(error.sentence)) from error
    trial = folder / remote_files.TRIAL
    with in_words():
        trial.write_bytes(b"1")
        trial.unlink()


def give_up(store: Store, act: Act, data_dir: Path) -> None:
    """No off-site copy from now on; what lies there stays."""
    with off_site_settings.changed_or_as_before(data_dir):
        store.once(act, "off_site", lambda: _change(data_dir, None, ""))


def shown(before: OffSite | None, kind: str) -> dict[str, str]:
    """What stands in the fields of one kind: what is set up, without its secrets."""
    empty = OffSite(kind=kind, folder="", region="us-east-1" if kind == S3 else "")
    place = before if before and before.kind == kind else empty
    open_to_see = replace(place, key="", secret="")
    names = ("folder", "host", "port", "user", "bucket", "region", "key", "secret")
    return {name: str(getattr(open_to_see, name)) for name in names}


def shop_line(data_dir: Path) -> str:
    """What the other computer's authorized_keys needs to let this shop in."""
    path = data_dir / sftp_known_host.PUBLIC
    if path.exists():
        return path.read_text(encoding="ascii").strip()
    return NETWORK.do(remote_files.shop_line, data_dir)


def others_key(data_dir: Path, held: OffSite | None) -> str:
    """The fingerprint of the computer that is set up, "" where none is."""
    return sftp_known_host.fingerprint(data_dir) if held and held.kind == SFTP else ""
