"""Files on another computer by SFTP, by asyncssh (https://asyncssh.readthedocs.io, EPL 2.0), which
is imported only where files go across: never by the server. A key made for this shop alone opens
it; its own key is the one of the first time.
"""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Iterable
from contextlib import suppress
from pathlib import Path, PurePosixPath
from typing import Any, TypeVar

import asyncssh
from asyncssh import SFTPClient

from fitcounter.errors import Unavailable, message
from fitcounter.store.remote_place import MARK, OffSite
from fitcounter.store.sftp_known_host import KEY, KNOWN, PUBLIC, host_key

FOLDERS = ("", "photos", "signatures", "evening")
WAIT_S = 20
LONGEST_S = 3600
AT_ONCE = 8
# in the order in which Litestream's own SSH asks for a computer's key, so that both know the same
HOST_KEYS = (
    *("ecdsa-sha2-nistp256", "ecdsa-sha2-nistp384", "ecdsa-sha2-nistp521"),
    *("rsa-sha2-256", "rsa-sha2-512", "ssh-ed25519"),
)
T = TypeVar("T")


def public_key(data_dir: Path) -> str:
    """The line that the other computer's authorized_keys needs; the pair is made at first need."""
    path = data_dir / PUBLIC
    if not path.exists():
        key = asyncssh.generate_private_key("ssh-ed25519", comment="fitcounter")
        draft = data_dir / f"{KEY}.half"
        draft.unlink(missing_ok=True)
        draft.touch(mode=0o600)
        draft.write_bytes(key.export_private_key())
        draft.replace(data_dir / KEY)
        path.write_bytes(key.export_public_key())
    return path.read_text(encoding="ascii").strip()


class SftpFiles:
    """See RemoteFiles."""

    def __init__(self, place: OffSite, data_dir: Path) -> None:
        self.place, self.data_dir = place, data_dir
        self.base = PurePosixPath(place.folder)

    def names(self) -> dict[str, int]:
        return self._do(self._names)

    def put(self, files: Iterable[tuple[Path, str]]) -> None:
        pairs = list(files)
        folders = {str((self.base / name).parent) for _, name in pairs}

        async def work(sftp: SFTPClient) -> None:
            for folder in sorted(folders):
                await sftp.makedirs(folder, exist_ok=True)
            await _several([self._put(sftp, path, name) for path, name in pairs])

        self._do(work)

    def get(self, files: Iterable[tuple[str, Path]]) -> None:
        pairs = list(files)

        async def work(sftp: SFTPClient) -> None:
            await _several([sftp.get(self._at(name), str(path)) for name, path in pairs])

        self._do(work)

    def remove(self, names: Iterable[str]) -> None:
        wanted = list(names)

        async def work(sftp: SFTPClient) -> None:
            for name in wanted:
                with suppress(asyncssh.SFTPNoSuchFile):
                    await sftp.remove(self._at(name))

        self._do(work)

    def remove_live(self, live: str) -> None:
        async def work(sftp: SFTPClient) -> None:
            if await sftp.isdir(self._at(live)):
                await sftp.rmtree(self._at(live))

        self._do(work)

    def _at(self, name: str) -> str:
        return str(self.base / name)

    async def _put(self, sftp: SFTPClient, path: Path, name: str) -> None:
        half = self._at(f"{name}.half")
        await sftp.put(str(path), half)
        await sftp.posix_rename(half, self._at(name))

    async def _names(self, sftp: SFTPClient) -> dict[str, int]:
        found: dict[str, int] = {}
        for folder in FOLDERS:
            with suppress(asyncssh.SFTPNoSuchFile):
                for one in await sftp.readdir(self._at(folder)):
                    name = str(PurePosixPath(folder) / str(one.filename))
                    if one.attrs.type == asyncssh.FILEXFER_TYPE_REGULAR:
                        found[name] = int(one.attrs.size or 0)
                    elif name.startswith("live-") and await sftp.isfile(self._at(f"{name}/{MARK}")):
                        mark = f"{name}/{MARK}"
                        found[mark] = int(await sftp.getsize(self._at(mark)) or 0)
        return found

    def _do(self, work: Callable[[SFTPClient], Awaitable[T]]) -> T:
        """What the work returns. Raises Unavailable in words for what goes wrong in it."""
        try:
            return asyncio.run(asyncio.wait_for(self._connected(work), LONGEST_S))
        except OSError as error:
            if error.filename is not None:
                raise  # of this computer's own disk
            raise Unavailable(self._in_words(error)) from error
        except (TimeoutError, asyncssh.Error) as error:
            raise Unavailable(self._in_words(error)) from error

    async def _connected(self, work: Callable[[SFTPClient], Awaitable[T]]) -> T:
        place = self.place
        public_key(self.data_dir)
        settings: dict[str, Any] = {"config": None, "server_host_key_algs": list(HOST_KEYS)}
        if not host_key(self.data_dir):
            key = await asyncio.wait_for(
                asyncssh.get_server_host_key(place.host, place.port, **settings), WAIT_S
            )
            if key is None:
                raise ConnectionError
            theirs = key.export_public_key().decode().strip()
            learned = f"[{place.host}]:{place.port} {theirs}\n"
            (self.data_dir / KNOWN).write_text(learned, encoding="ascii")
        known = asyncssh.import_public_key(host_key(self.data_dir))
        async with (
            asyncssh.connect(
                place.host,
                place.port,
                username=place.user,
                client_keys=[str(self.data_dir / KEY)],
                agent_path=None,
                preferred_auth="publickey",
                known_hosts=([known], [], []),
                connect_timeout=WAIT_S,
                login_timeout=WAIT_S,
                keepalive_interval=10,
                **settings,
            ) as line,
            line.start_sftp_client() as sftp,
        ):
            return await work(sftp)

    def _in_words(self, error: BaseException) -> str:
        host, user = self.place.host, self.place.user
        if isinstance(error, (asyncssh.HostKeyNotVerifiable, asyncssh.KeyExchangeFailed)):
            return message(
                "{host} is not the computer it was: its own key has changed. Ask who looks after"
                " it, then set up the off-site copy again.",
                host=host,
            )
        if isinstance(error, asyncssh.PermissionDenied):
            return message(
                "{host} does not let {user} in. Put this line into the file .ssh/authorized_keys"
                " there: {line}",
                host=host,
                user=user,
                line=public_key(self.data_dir),
            )
        if isinstance(error, asyncssh.SFTPError):
            return message(
                "{user} may not write into {folder} on {host}. Name a folder of that user.",
                user=user,
                folder=self.place.folder,
                host=host,
            )
        return message(
            "{host} cannot be reached. Is its address right, and is the network there?", host=host
        )


async def _several(works: list[Any]) -> None:
    """All of them, a few at once."""
    gate = asyncio.Semaphore(AT_ONCE)

    async def one(work: Awaitable[None]) -> None:
        async with gate:
            await work

    await asyncio.gather(*(one(work) for work in works))
