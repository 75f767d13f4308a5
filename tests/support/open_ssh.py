"""OpenSSH's own server on the loopback, which lets one key into SFTP as whoever runs the tests."""

from __future__ import annotations

import getpass
import shutil
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from support.sftp_server import SftpServer

SSHD = shutil.which("sshd", path="/usr/sbin:/sbin:/usr/local/sbin:/usr/bin")
READY = Path("/run/sshd")  # where a server of root gives its rights away
needs_sshd = pytest.mark.skipif(
    SSHD is None,
    reason="OpenSSH's server is not installed here: sudo apt-get install openssh-server",
)
CONFIG = """
ListenAddress 127.0.0.1
Port {port}
{host_keys}
AuthorizedKeysFile {folder}/authorized
PidFile none
StrictModes no
UsePAM no
PasswordAuthentication no
KbdInteractiveAuthentication no
Subsystem sftp internal-sftp
"""
KINDS = ("ecdsa", "ed25519", "rsa")


@contextmanager
def open_ssh(folder: Path) -> Iterator[SftpServer]:
    """While the block runs it answers."""
    assert SSHD is not None
    (folder / "files").mkdir(parents=True)
    if getpass.getuser() == "root":
        READY.mkdir(exist_ok=True)
    with socket.create_server(("127.0.0.1", 0)) as probe:
        port = int(probe.getsockname()[1])
    for kind in KINDS:
        size = ["-b", "2048"] if kind == "rsa" else []
        line = ["ssh-keygen", "-q", "-t", kind, *size, "-N", "", "-f", str(folder / kind)]
        subprocess.run(line, check=True)
    keys = "\n".join(f"HostKey {folder / kind}" for kind in KINDS)
    config = folder / "sshd_config"
    config.write_text(CONFIG.format(port=port, host_keys=keys, folder=folder), encoding="utf-8")
    server = subprocess.Popen([SSHD, "-D", "-e", "-f", str(config)], stderr=subprocess.DEVNULL)
    try:
        for _ in range(100):
            with socket.socket() as line:
                if line.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.05)
        yield SftpServer(port, folder, folder / "files", folder / "ecdsa.pub")
    finally:
        server.terminate()
        server.wait()
