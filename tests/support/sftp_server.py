"""A server of SFTP on the loopback (asyncssh's), which lets one key in."""

from __future__ import annotations

import asyncio
import getpass
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import asyncssh

from fitcounter.desk.data.off_site_settings import SFTP, OffSite, from_fields


@dataclass
class SftpServer:
    """port: where it listens; folder: of its keys; root: where files may go; public: the file of
    its own key.
    """

    port: int
    folder: Path
    root: Path
    public: Path

    def let_in(self, line: str) -> None:
        (self.folder / "authorized").write_text(f"{line}\n", encoding="ascii")

    def place(self, folder: Path | None = None) -> OffSite:
        typed = {
            "host": "127.0.0.1",
            "port": str(self.port),
            "user": getpass.getuser(),
            "folder": str(folder or self.root / "boots"),
        }
        return from_fields(SFTP, typed)


class _OneKey(asyncssh.SSHServer):
    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def public_key_auth_supported(self) -> bool:
        return True

    def validate_public_key(self, username: str, key: asyncssh.SSHKey) -> bool:
        line = (self.folder / "authorized").read_text(encoding="ascii").split()
        return line[:2] == key.export_public_key().decode().split()[:2]


@contextmanager
def sftp_server(folder: Path) -> Iterator[SftpServer]:
    """While the block runs it answers."""
    (folder / "files").mkdir(parents=True)
    key, loop = asyncssh.generate_private_key("ecdsa-sha2-nistp256"), asyncio.new_event_loop()
    public = folder / "ecdsa.pub"
    public.write_bytes(key.export_public_key())

    async def listen() -> asyncssh.SSHAcceptor:
        return await asyncssh.listen(
            "127.0.0.1",
            0,
            server_host_keys=[key],
            server_factory=lambda: _OneKey(folder),
            sftp_factory=True,
        )

    async def close() -> None:
        server.close()
        await server.wait_closed()

    thread = threading.Thread(target=loop.run_forever, daemon=True)
    thread.start()
    server = asyncio.run_coroutine_threadsafe(listen(), loop).result(10)
    try:
        yield SftpServer(server.get_port(), folder, folder / "files", public)
    finally:
        asyncio.run_coroutine_threadsafe(close(), loop).result(10)
        loop.call_soon_threadsafe(loop.stop)
        thread.join(10)
        loop.close()
