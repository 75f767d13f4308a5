"""What the program is told from outside, and the keys it makes for itself.

Settings come from the command line and from FITCOUNTER_… in the environment; they are read once, at
the start. The keys lie with the data, never with the program. OWASP ASVS 5.0 13.3.1 asks for
secrets outside the code and unreadable to others.
"""

from __future__ import annotations

import ipaddress
import json
import os
import secrets
import socket
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from fitcounter.errors import BadInput, NotAllowed, Unavailable, message

_PACKAGE = Path(__file__).resolve().parent
# Where templates/, static/ and seed_scenario/ lie, and nobody's data may: in a checkout beside the
# package; in what pip installs inside it, because a wheel carries them there (pyproject.toml).
PROGRAM = _PACKAGE if (_PACKAGE / "templates").is_dir() else _PACKAGE.parent
TEMPLATES = PROGRAM / "templates"
STATIC = PROGRAM / "static"
SEED_SCENARIO = PROGRAM / "seed_scenario"
MOUNTS = Path("/proc/self/mounts")
# SQLite's locks do not hold on these. They are judged by the start of the name, so that "nfs" means
# nfs4 too.
NETWORK_FILE_SYSTEMS = (
    *("nfs", "cifs", "smb", "9p", "fuse.", "afs"),
    *("ceph", "lustre", "gluster", "davfs", "ncp"),
)
LOOPBACK = ("localhost", "127.0.0.1", "::1")
KEY_DIGITS = 64  # 32 random bytes as hexadecimal digits: what HMAC-SHA-256 can use


@dataclass(frozen=True, slots=True)
class Settings:
    """What one run of the program is told.

    data_dir: where everything lies that is not the program. host, port: where the server listens.
    base_url: how a phone reaches it, without a closing slash. trusted_hosts: the names a request
    may ask for, without port. https: phones come over HTTPS, by our own certificate or through a
    proxy. proxies: how many proxies stand before the server (0 or 1). proxy: the address it comes
    from, "" for this machine's own. certificate, certificate_key: PEM files for HTTPS.
    copies: the folder of the copies that are made by themselves, None for beside the data.
    """

    data_dir: Path
    host: str = "127.0.0.1"
    port: int = 8000
    base_url: str = "http://localhost:8000"
    trusted_hosts: tuple[str, ...] = LOOPBACK
    https: bool = False
    proxies: int = 0
    proxy: str = ""
    testing: bool = False
    certificate: Path | None = None
    certificate_key: Path | None = None
    copies: Path | None = None

    @classmethod
    def from_environment(cls, environ: Mapping[str, str], arguments: Mapping[str, Any]) -> Settings:
        """Read settings: an argument wins over FITCOUNTER_<NAME>, which wins over the default.

        arguments: as argparse gives them (data, host, port, address, proxies, proxy, certificate,
        key, copies); None means "not given". Raises BadInput with the name of the setting and what
        to write.
        """

        def given(name: str) -> str | None:
            value = arguments.get(name)
            return environ.get(f"FITCOUNTER_{name.upper()}") if value is None else str(value)

        host = given("host") or "127.0.0.1"
        port = _whole_number("port", given("port") or "8000", 1, 65535)
        certificate, key = given("certificate"), given("key")
        if (certificate is None) != (key is None):
            raise BadInput(
                message("Give both --certificate and --key, or neither."), field="certificate"
            )
        base_url = _address(given("address"), host, port, secure=certificate is not None)
        name = urlsplit(base_url).hostname or ""
        return cls(
            data_dir=Path(given("data") or default_data_dir(environ)).expanduser().absolute(),
            host=host,
            port=port,
            base_url=base_url,
            trusted_hosts=tuple(dict.fromkeys((name, *LOOPBACK))),
            https=base_url.startswith("https:"),
            proxies=_whole_number("proxies", given("proxies") or "0", 0, 1),
            proxy=_machine(given("proxy") or ""),
            certificate=Path(certificate) if certificate else None,
            certificate_key=Path(key) if key else None,
            copies=Path(copies).expanduser().absolute() if (copies := given("copies")) else None,
        )


def default_data_dir(environ: Mapping[str, str]) -> Path:
    """The user's own data folder (XDG Base Directory Specification 0.8: XDG_DATA_HOME, or
    ~/.local/share).
    """
    return Path(environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / "fitcounter"


def _whole_number(name: str, typed: str, lowest: int, highest: int) -> int:
    if not (typed.isascii() and typed.isdigit() and lowest <= int(typed) <= highest):
        values = {"name": name, "lowest": lowest, "highest": highest}
        sentence = message("Write {name} as a whole number from {lowest} to {highest}.", **values)
        raise BadInput(sentence, typed=typed, field=name)
    return int(typed)


def _machine(typed: str) -> str:
    try:
        return str(ipaddress.ip_address(typed)) if typed else ""
    except ValueError:
        sentence = message("Write the proxy’s address in numbers, like 192.168.1.2.")
        raise BadInput(sentence, typed=typed, field="proxy") from None


def _address(typed: str | None, host: str, port: int, *, secure: bool) -> str:
    if typed is None:
        name = (
            "localhost"
            if host in LOOPBACK
            else lan_address()
            if host in ("0.0.0.0", "::")
            else host
        )
        return f"{'https' if secure else 'http'}://{name}:{port}"
    parts = urlsplit(typed)
    if (
        parts.scheme not in ("http", "https")
        or not parts.hostname
        or parts.path.strip("/")
        or parts.query
    ):
        sentence = message("Write the address as https://NAME or http://NAME:PORT, and no more.")
        raise BadInput(sentence, typed=typed, field="address")
    return typed.rstrip("/")


def lan_address() -> str:
    """This machine's address on its own network, or 127.0.0.1 without one.

    Nothing is sent: the kernel only picks a route.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # RFC 5737: an address that belongs to nobody
        except OSError:
            return "127.0.0.1"
        return str(probe.getsockname()[0])


@dataclass(frozen=True, slots=True)
class Keys:
    """The secrets of one shop. secret_key signs sign-ins, csrf_key signs forms; fallbacks are older
    secret keys still honoured.

    To renew the secret key, move the old one to the front of `fallbacks` in the file; the csrf key
    stays, so that forms that are open at that moment can still be saved.
    """

    secret_key: str
    csrf_key: str
    fallbacks: tuple[str, ...] = ()


def prepare_data_dir(data_dir: Path, mounts: Path = MOUNTS) -> Path:
    """Make the data folder, for its owner alone, and refuse one where the data would not be safe.
    Returns it.

    mounts: the machine's mount table, in the form of fstab(5). Raises NotAllowed (inside the
    program's own folder, on a network drive) or Unavailable (cannot be made).
    """
    if data_dir.resolve().is_relative_to(PROGRAM):
        raise NotAllowed(
            message(
                "{data_dir} lies inside the program's own folder. Choose another one with --data.",
                data_dir=data_dir,
            ),
            field="data",
        )
    kind = file_system(data_dir, mounts)
    if kind.startswith(NETWORK_FILE_SYSTEMS) or kind == "fuse":
        raise NotAllowed(
            message(
                "{folder} is on a network drive ({kind}). Choose one on this computer with --data.",
                folder=data_dir,
                kind=kind,
            ),
            field="data",
        )
    try:
        data_dir.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        raise Unavailable(
            message(
                "The data folder {folder} cannot be made: {reason}. Choose another with --data.",
                folder=data_dir,
                reason=error.strerror,
            )
        ) from error
    return data_dir


def file_system(path: Path, mounts: Path = MOUNTS) -> str:
    """The kind of file system that `path` lies on ("ext4", "nfs4"), "" where the mount table cannot
    be read.
    """
    try:
        lines = mounts.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return ""
    found, kind = -1, ""
    target = path.resolve()
    for line in lines:
        _, where, this_kind, *_ = line.split(" ")
        # fstab(5): a space in a name is written as \040
        place = Path(where.replace("\\040", " ").replace("\\011", "\t").replace("\\134", "\\"))
        if (
            target.is_relative_to(place) and len(place.parts) >= found
        ):  # a later mount on the same place hides the earlier
            found, kind = len(place.parts), this_kind
    return kind


def load_keys(data_dir: Path) -> Keys:
    """The keys of the shop whose data lie there; made at the first start, mode 0600.

    Raises NotAllowed with advice when others can read the file or a key is weak.
    """
    path = data_dir / "keys.json"
    if not path.exists():
        _make_keys(path)
    if path.stat().st_mode & 0o077:
        raise NotAllowed(
            message("Others on this machine can read the keys. Type: chmod 600 {path}", path=path),
            field="keys",
        )
    try:
        stored = json.loads(path.read_text(encoding="ascii"))
        keys = Keys(stored["secret_key"], stored["csrf_key"], tuple(stored["fallbacks"]))
    except (ValueError, KeyError, TypeError) as error:
        raise NotAllowed(
            message("The keys cannot be read. {advice}", advice=_new_keys(path)), field="keys"
        ) from error
    if any(_weak(key) for key in (keys.secret_key, keys.csrf_key, *keys.fallbacks)):
        raise NotAllowed(
            message("A key is weak: somebody could guess it. {advice}", advice=_new_keys(path)),
            field="keys",
        )
    return keys


def _new_keys(path: Path) -> str:
    return message(
        "Move {file} away and start again: new keys are made, and everybody signs in once more.",
        file=path,
    )


def _weak(key: object) -> bool:
    """Anything but 64 hexadecimal digits that look drawn: of 16 possible digits, 64 drawn ones miss
    half only once in 10^15.
    """
    return (
        not isinstance(key, str)
        or len(key) < KEY_DIGITS
        or bool(set(key) - set("0123456789abcdef"))
        or len(set(key)) <= 8
    )


def _make_keys(path: Path) -> None:
    """Write new keys in one step, so that two processes that start together agree on them."""
    new = {"secret_key": secrets.token_hex(32), "csrf_key": secrets.token_hex(32), "fallbacks": []}
    draft = path.with_name(f"{path.name}.{os.getpid()}.{secrets.token_hex(4)}")
    descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w", encoding="ascii") as file:
        json.dump(new, file)
        file.flush()
        os.fsync(file.fileno())
    try:
        os.link(draft, path)
    except FileExistsError:
        pass  # the other process was first: its keys are the keys
    finally:
        draft.unlink()
