"""What the program is told from outside, where its data may lie, and the keys it makes for
itself.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from support.paths import CHECKOUT

from fitcounter import settings
from fitcounter.errors import BadInput, NotAllowed, Unavailable
from fitcounter.settings import Settings


def test_an_argument_wins_over_the_environment_and_both_over_the_default(tmp_path: Path) -> None:
    """--port beats FITCOUNTER_PORT, which beats 8000."""
    environ = {"FITCOUNTER_PORT": "8001", "FITCOUNTER_DATA": str(tmp_path)}

    assert Settings.from_environment({}, {"data": "/srv/boots"}).port == 8000
    assert Settings.from_environment(environ, {"port": None}).port == 8001
    assert Settings.from_environment(environ, {"port": "8002"}).port == 8002
    assert Settings.from_environment(environ, {}).data_dir == tmp_path


def test_the_folder_of_the_copies_is_told_or_beside_the_data(tmp_path: Path) -> None:
    """--copies beats FITCOUNTER_COPIES; without either the copies lie beside the data."""
    environ = {"FITCOUNTER_COPIES": str(tmp_path / "disk")}

    assert Settings.from_environment({}, {}).copies is None
    assert Settings.from_environment(environ, {}).copies == tmp_path / "disk"
    assert Settings.from_environment(environ, {"copies": "/srv/else"}).copies == Path("/srv/else")


def test_data_lie_in_the_users_own_data_folder_unless_told_otherwise() -> None:
    """XDG_DATA_HOME, or ~/.local/share."""
    assert Settings.from_environment({"XDG_DATA_HOME": "/srv/data"}, {}).data_dir == Path(
        "/srv/data/fitcounter"
    )
    assert (
        Settings.from_environment({}, {}).data_dir
        == Path.home() / ".local" / "share" / "fitcounter"
    )


@pytest.mark.parametrize(
    ("given", "base_url", "https", "hosts"),
    [
        ({}, "http://localhost:8000", False, {"localhost"}),
        (
            {"host": "192.168.1.20"},
            "http://192.168.1.20:8000",
            False,
            {"192.168.1.20", "localhost"},
        ),
        (
            {"address": "https://boots.example/"},
            "https://boots.example",
            True,
            {"boots.example", "localhost"},
        ),
        (
            {"certificate": "a.crt", "key": "a.key", "port": "8443"},
            "https://localhost:8443",
            True,
            {"localhost"},
        ),
    ],
)
def test_the_address_says_the_scheme_and_the_host_to_trust(
    given: dict[str, str], base_url: str, https: bool, hosts: set[str]
) -> None:
    """Links, cookies and trusted hosts follow from how phones reach the shop."""
    read = Settings.from_environment({}, given)

    assert (read.base_url, read.https) == (base_url, https)
    assert set(read.trusted_hosts) == hosts | {"127.0.0.1", "::1"}


def test_listening_to_the_network_names_this_machines_own_address() -> None:
    """With 0.0.0.0 the printed address is one that a phone can open, not 0.0.0.0."""
    assert (
        Settings.from_environment({}, {"host": "0.0.0.0"}).base_url
        == f"http://{settings.lan_address()}:8000"
    )
    assert settings.lan_address() != "0.0.0.0"


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("port", "0"),
        ("port", "65536"),
        ("port", "http"),
        ("port", "8_0"),
        ("port", "٨٠"),
        ("port", "-1"),
        ("proxies", "2"),
        ("proxy", "boots.example"),
        ("address", "boots.example"),
        ("address", "https://"),
        ("address", "ftp://boots.example"),
        ("address", "https://boots.example/shop"),
        ("certificate", "only.crt"),
    ],
)
def test_a_setting_that_cannot_be_gets_one_sentence(name: str, typed: str) -> None:
    """The error names the setting and says what to write."""
    with pytest.raises(BadInput) as caught:
        Settings.from_environment({}, {name: typed})

    assert caught.value.field == name
    assert caught.value.sentence.startswith(("Write", "Give"))


def test_keys_are_made_once_for_the_owner_alone(tmp_path: Path) -> None:
    """The first start draws two different secrets, mode 0600; the next finds the same."""
    keys = settings.load_keys(tmp_path)

    assert keys == settings.load_keys(tmp_path)
    assert len({keys.secret_key, keys.csrf_key}) == 2
    assert [(path.name, path.stat().st_mode & 0o777) for path in tmp_path.iterdir()] == [
        ("keys.json", 0o600)
    ]


def test_two_first_starts_at_once_agree_on_the_keys(tmp_path: Path) -> None:
    """Of ten processes that start together on an empty folder, all sign with the same keys."""
    line = (
        "import sys; from pathlib import Path; from fitcounter.settings import load_keys;"
        " print(load_keys(Path(sys.argv[1])).secret_key)"
    )
    starts = [
        subprocess.Popen(
            [sys.executable, "-c", line, tmp_path], cwd=CHECKOUT, stdout=subprocess.PIPE
        )
        for _ in range(10)
    ]

    assert len({start.communicate()[0] for start in starts}) == 1
    assert [path.name for path in tmp_path.iterdir()] == ["keys.json"]


@pytest.mark.parametrize("mode", [0o640, 0o604, 0o644, 0o660])
def test_keys_that_others_can_read_are_refused_with_the_command_that_helps(
    tmp_path: Path, mode: int
) -> None:
    """A start with a readable key file ends with advice."""
    settings.load_keys(tmp_path)
    (tmp_path / "keys.json").chmod(mode)

    with pytest.raises(NotAllowed, match=f"chmod 600 {tmp_path}/keys.json"):
        settings.load_keys(tmp_path)


@pytest.mark.parametrize("name", ["secret_key", "csrf_key", "fallbacks"])
@pytest.mark.parametrize(
    "weak", ["dev", "", "0" * 64, "01234567" * 8, "g" * 64, None, 7, "0123456789abcdef"]
)
def test_weak_keys_are_refused(tmp_path: Path, name: str, weak: object) -> None:
    """Short, repeated, or not drawn as ours are: the program does not start with such a key, in any
    place.
    """
    settings.load_keys(tmp_path)
    path = tmp_path / "keys.json"
    stored = json.loads(path.read_text(encoding="ascii"))
    stored[name] = [weak] if name == "fallbacks" else weak
    path.write_text(json.dumps(stored), encoding="ascii")

    with pytest.raises(NotAllowed, match="A key is weak"):
        settings.load_keys(tmp_path)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        "{}",
        '{"secret_key": "x"}',
        '{"secret_key": "x", "csrf_key": "y", "fallbacks": 7}',
    ],
)
def test_a_damaged_key_file_is_refused_not_replaced(tmp_path: Path, text: str) -> None:
    """The file is left as it is, and the sentence says what to do with it."""
    settings.load_keys(tmp_path)
    path = tmp_path / "keys.json"
    path.write_text(text, encoding="ascii")

    with pytest.raises(NotAllowed, match=r"Move .* away"):
        settings.load_keys(tmp_path)
    assert path.read_text(encoding="ascii") == text


MOUNTS = """/dev/vda1 / ext4 rw,relatime 0 0
server:/export {tmp}/net nfs4 rw 0 0
//server/share {tmp}/with\\040space cifs rw 0 0
host {tmp}/nine 9p rw 0 0
sshfs {tmp}/ssh fuse.sshfs rw 0 0
/dev/sdb1 {tmp}/stick fuseblk rw 0 0
tmpfs {tmp}/net/cache tmpfs rw 0 0
/dev/sdc1 {tmp}/twice ext4 rw 0 0
server:/export {tmp}/twice nfs rw 0 0
"""


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("net", "nfs4"),
        ("net/deep/down", "nfs4"),
        ("with space/x", "cifs"),
        ("nine", "9p"),
        ("ssh", "fuse.sshfs"),
        ("twice", "nfs"),
    ],
)
def test_a_network_drive_is_refused(tmp_path: Path, folder: str, kind: str) -> None:
    """SQLite's locks do not hold there: the sentence names the kind, and nothing is made."""
    mounts = tmp_path / "mounts"
    mounts.write_text(MOUNTS.format(tmp=tmp_path), encoding="utf-8")

    with pytest.raises(NotAllowed, match=rf"network drive \({kind}\)"):
        settings.prepare_data_dir(tmp_path / folder, mounts)
    assert not (tmp_path / folder).exists()


@pytest.mark.parametrize("folder", ["here", "network", "stick/shop", "net/cache/shop"])
def test_a_drive_of_this_machine_is_taken(tmp_path: Path, folder: str) -> None:
    """A local disk, a stick, memory: the folder is made for its owner alone.

    A name that only begins like a mount is none.
    """
    mounts = tmp_path / "mounts"
    mounts.write_text(MOUNTS.format(tmp=tmp_path), encoding="utf-8")

    made = settings.prepare_data_dir(tmp_path / folder, mounts)

    assert made.stat().st_mode & 0o777 == 0o700


def test_without_a_mount_table_the_folder_is_taken(tmp_path: Path) -> None:
    """A machine that has no such table is not refused."""
    assert settings.prepare_data_dir(tmp_path / "shop", tmp_path / "no-table").is_dir()


@pytest.mark.parametrize("inside", ["data", "static/data", "tests/../data"])
def test_the_programs_own_folder_is_refused(inside: str) -> None:
    """Keys and customers do not lie where the program is copied, shared and thrown away."""
    with pytest.raises(NotAllowed, match="inside the program's own folder"):
        settings.prepare_data_dir(CHECKOUT / inside)
    assert not (CHECKOUT / inside).exists()


def test_a_folder_that_cannot_be_made_gets_a_sentence(tmp_path: Path) -> None:
    """A file in the way is named, not traced back."""
    (tmp_path / "file").touch()

    with pytest.raises(Unavailable, match="cannot be made"):
        settings.prepare_data_dir(tmp_path / "file" / "shop")
