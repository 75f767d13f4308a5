"""Where the key lies that lets this shop, and no other, into another computer; and that computer's
own key, as it was at the first time.
"""

from __future__ import annotations

import base64
import hashlib
from pathlib import Path

KEY, PUBLIC, KNOWN = "off-site-key", "off-site-key.pub", "off-site-hosts"


def host_key(data_dir: Path) -> str:
    """The other computer's own key, "ssh-… AAAA…", as it was at the first time; "" before."""
    try:
        lines = (data_dir / KNOWN).read_text(encoding="ascii").splitlines()
    except OSError:
        return ""
    return " ".join(lines[-1].split()[1:3]) if lines else ""


def fingerprint(data_dir: Path) -> str:
    """Of that key, as ssh-keygen -l shows it on the other computer: "SHA256:…"."""
    _, _, encoded = host_key(data_dir).partition(" ")
    digest = hashlib.sha256(base64.b64decode(encoded)).digest()
    return f"SHA256:{base64.b64encode(digest).decode().rstrip('=')}" if encoded else ""


def forget_host(data_dir: Path) -> None:
    """Another computer is set up: its key is learned anew."""
    (data_dir / KNOWN).unlink(missing_ok=True)
