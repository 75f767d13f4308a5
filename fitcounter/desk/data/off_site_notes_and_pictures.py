"""The off-site copy in a network as it is to be: its notes and marks in a folder of this computer,
and the pictures and the newest evening sheet, which go across from where they lie.
"""

from __future__ import annotations

import os
import shutil
from contextlib import suppress
from pathlib import Path

from fitcounter.desk.data import audit_anchors, erasure, off_site_copy, off_site_settings
from fitcounter.desk.data import take_over as lease
from fitcounter.desk.data.off_site_settings import OffSite
from fitcounter.desk.data.take_over import Lease
from fitcounter.store import erased_list, remote_files, sftp_known_host
from fitcounter.store.job_log import EVENINGS

PICTURES = ("photos", "signatures")
NOTES = (audit_anchors.OFF_SITE, erased_list.LIST)
SETTLED = (*remote_files.FOLDERS, "live-")  # what never changes once it is there
TOGETHER = 50  # files that go across at once; then it is looked whether to stop


class OffSiteStage:
    """folder: where the use cases of the off-site copy find and write it."""

    def __init__(self, data_dir: Path, place: OffSite) -> None:
        self.data_dir, self.files = data_dir, remote_files.of(place, data_dir)
        self.folder = data_dir / off_site_settings.STAGE
        self.there: dict[str, int] = {}
        self._sent: dict[str, tuple[int, int]] = {}

    def ssh_keys(self) -> dict[str, object]:
        """For Litestream's own SSH: where our key lies, and the other computer's."""
        key = str(self.data_dir / sftp_known_host.KEY)
        return {"key-path": key, "host-key": sftp_known_host.host_key(self.data_dir)}

    def lease(self) -> Lease | None:
        """Which computer has the shop, as it is noted there now. Raises Unavailable."""
        here = self.folder / lease.FILE
        here.unlink(missing_ok=True)
        if lease.FILE in self.there:
            self._fetch([lease.FILE])
        return lease.read(here)

    def take(self, ours: Lease) -> None:
        """Notes there that this computer has the shop. Raises Unavailable."""
        lease.write(self.folder / lease.FILE, ours)
        self.files.put([(self.folder / lease.FILE, lease.FILE)])
        self.there[lease.FILE] = 0

    def begin(self) -> None:
        """Brings here what lies there: the notes, and whose shop each live folder is of. Pictures
        of who was erased go from there. Raises Unavailable.
        """
        self.there, self._sent = self.files.names(), {}
        self.folder.mkdir(mode=0o700, exist_ok=True)
        for live in self.folder.glob("live-*"):
            shutil.rmtree(live)
        for note in NOTES:
            (self.folder / note).unlink(missing_ok=True)
        wanted = [name for name in self.there if name in NOTES or name.startswith("live-")]
        self._fetch(wanted)
        erased = erasure.erased_files(self.data_dir) & set(self.there)
        self._remove(erased)

    def mark(self, live: Path) -> None:
        """Puts the mark of a live folder there. Raises Unavailable."""
        mark = live / off_site_copy.MARK
        self.files.put([(mark, f"{live.name}/{mark.name}")])
        self.there[f"{live.name}/{mark.name}"] = mark.stat().st_size

    def everything(self) -> None:
        """Brings all of it here, for a computer with nothing on it. Raises Unavailable."""
        self.there = self.files.names()
        self.folder.mkdir(mode=0o700, exist_ok=True)
        self._fetch(sorted(self.there))

    def renew(self) -> None:
        """Brings what is missing of it here, and leaves nothing that is there no more, for a
        computer that stands by. Raises Unavailable.
        """
        self.there = self.files.names()
        self.folder.mkdir(mode=0o700, exist_ok=True)
        for live in off_site_copy.live_folders(self.folder):
            if f"{live.name}/{off_site_copy.MARK}" not in self.there:
                shutil.rmtree(live)
        here = {
            path.relative_to(self.folder).as_posix(): path.stat().st_size
            for path in self.folder.rglob("*")
            if path.is_file()
        }
        for name in here.keys() - self.there.keys():
            (self.folder / name).unlink()
        settled = {name for name in here if name.startswith(SETTLED)}
        whole = {name for name in settled if here[name] == self.there.get(name)}
        self._fetch(sorted(self.there.keys() - whole))

    def drop(self) -> None:
        """Leaves nothing of it on this computer: once a shop is restored, its pictures are its own,
        and an erasing would not look here.
        """
        shutil.rmtree(self.folder, ignore_errors=True)

    def _fetch(self, names: list[str]) -> None:
        for name in names:
            (self.folder / name).parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        self.files.get([(name, self.folder / name) for name in names])

    def push(self) -> bool:
        """Brings some of what is missing there across, and takes away what is no more; False where
        there is more to do. Raises Unavailable.

        Pictures go only by `begin`, for who was erased: a disk that lost them takes none along.
        """
        here = self._here()
        missing = []
        for name, path in here.items():
            with suppress(FileNotFoundError):
                held = path.stat()
                stamp = held.st_size, held.st_mtime_ns
                settled = name.startswith(SETTLED) and self.there.get(name) == held.st_size
                if self._sent.get(name) != stamp and not settled:
                    missing.append((name, path, stamp))
        some = missing[:TOGETHER]
        if some:
            self.files.put([(path, name) for name, path, _ in some])
        for name, _, stamp in some:
            self._sent[name], self.there[name] = stamp, stamp[0]
        gone = set(self.there) - set(here)
        for live in sorted({name.partition("/")[0] for name in gone if name.startswith("live-")}):
            self.files.remove_live(live)
            self.there = {n: s for n, s in self.there.items() if not n.startswith(f"{live}/")}
        self._remove({name for name in gone if name.startswith(f"{EVENINGS}/")})
        return len(some) == len(missing)

    def _here(self) -> dict[str, Path]:
        """What is to be there, the mark of the newest live folder first."""
        # the lease goes by itself: an older one would be written over a newer
        files = (one for one in self.folder.iterdir() if one.is_file())
        tops = [one for one in files if one.name != lease.FILE]
        paths = {
            **{
                f"{one.parent.name}/{one.name}": one for one in self.folder.glob("live-*/shop.json")
            },
            **{one.name: one for one in tops},
        }
        newest = max((self.data_dir / EVENINGS).glob("evening-*.[ph]*"), default=None)
        if newest is not None:
            paths[f"{EVENINGS}/{newest.name}"] = newest
        for folder in PICTURES:
            pictures = self.data_dir / folder
            names = sorted(os.listdir(pictures)) if pictures.is_dir() else []
            paths |= {f"{folder}/{name}": pictures / name for name in names}
        return {name: path for name, path in paths.items() if not name.endswith(".half")}

    def _remove(self, names: set[str]) -> None:
        if names:
            self.files.remove(sorted(names))
            self.there = {name: size for name, size in self.there.items() if name not in names}
