"""The text of the unit, rule by rule, and what systemd itself says of it."""

from __future__ import annotations

import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from fitcounter.errors import BadInput
from fitcounter.serving.systemd_unit import ANYWHERE, FIRST_LINE, OF_SYSTEM, Unit, text

OWN = Unit(about="the shop", command=("/bin/true", "serve"), data_dir=Path("/var/lib/boots"))
OF_THE_SYSTEM = replace(OWN, run_as="daemon", writes=(Path("/media/stick"),))
needs_systemd = pytest.mark.skipif(
    shutil.which("systemd-analyze") is None, reason="systemd's own tools are not installed here"
)


def rules(unit: Unit) -> dict[str, list[str]]:
    """What each setting says, in the order of the file."""
    found: dict[str, list[str]] = {}
    for key, _, value in (line.partition("=") for line in text(unit).splitlines() if "=" in line):
        found.setdefault(key, []).append(value)
    return found


def test_the_shop_is_started_again_whatever_ended_it_and_its_words_are_kept():
    said = rules(OWN)
    assert text(OWN).startswith(FIRST_LINE)
    assert (said["Restart"], said["StartLimitIntervalSec"]) == (["always"], ["0"])
    assert said["StandardOutput"] == said["StandardError"] == ["journal"]
    assert said["ExecStart"] == ["/bin/true serve"]


def test_a_users_own_unit_asks_for_nothing_that_its_manager_cannot_do():
    """systemd.exec(5): a view of the file system of one's own, devices, capabilities."""
    said = rules(OWN)
    assert {line.partition("=")[0] for line in ANYWHERE} <= set(said)
    assert not {line.partition("=")[0] for line in OF_SYSTEM} & set(said)
    assert "User" not in said
    assert said["WantedBy"] == ["default.target"]


def test_a_unit_of_the_system_writes_into_its_own_folders_alone_and_holds_no_capability():
    said = rules(OF_THE_SYSTEM)
    assert (said["User"], said["WantedBy"]) == (["daemon"], ["multi-user.target"])
    assert (said["ProtectSystem"], said["ProtectHome"]) == (["strict"], ["read-only"])
    assert said["ReadWritePaths"] == ["/var/lib/boots -/media/stick"]
    assert said["CapabilityBoundingSet"] == said["AmbientCapabilities"] == [""]
    assert said["NoNewPrivileges"] == said["PrivateTmp"] == said["PrivateUsers"] == ["yes"]


def test_a_low_port_gets_the_one_capability_that_opens_it():
    said = rules(replace(OF_THE_SYSTEM, port=443))
    assert said["CapabilityBoundingSet"] == said["AmbientCapabilities"] == ["CAP_NET_BIND_SERVICE"]
    assert rules(replace(OF_THE_SYSTEM, port=8000))["CapabilityBoundingSet"] == [""]


def test_no_name_becomes_a_rule_of_its_own():
    odd = replace(OWN, command=("/bin/true", 'a "b" $HOME 50% c\\d'), data_dir=Path("/a b"))
    assert rules(odd)["ExecStart"] == [r'/bin/true "a \"b\" $$HOME 50%% c\\d"']
    with pytest.raises(BadInput, match="cannot be printed"):
        text(replace(OWN, command=("/bin/true", "x\nUser=root")))
    with pytest.raises(BadInput, match="cannot be printed"):
        text(replace(OWN, data_dir=Path("/x\nUser=root")))


@needs_systemd
@pytest.mark.parametrize("unit", [OWN, OF_THE_SYSTEM], ids=["own", "of the system"])
def test_systemd_finds_nothing_to_say_of_it(unit: Unit, tmp_path: Path):
    file = tmp_path / "fitcounter.service"
    file.write_text(text(unit), encoding="utf-8")
    done = subprocess.run(
        ["systemd-analyze", "verify", str(file)], capture_output=True, text=True, timeout=60
    )
    assert "fitcounter.service" not in done.stderr
    assert done.returncode == 0


@needs_systemd
def test_what_systemd_finds_exposed_of_a_unit_of_the_system_is_little(tmp_path: Path):
    """Its own scale goes from 0 to 10 (systemd-analyze(1), security); under 2 is its best word."""
    file = tmp_path / "fitcounter.service"
    file.write_text(text(OF_THE_SYSTEM), encoding="utf-8")
    done = subprocess.run(
        ["systemd-analyze", "security", "--offline=true", "--no-pager", str(file)],
        capture_output=True,
        text=True,
        timeout=60,
    )
    if not done.stdout:
        pytest.skip("this systemd cannot judge a file: its analyze security has no --offline")
    assert float(re.search(r"exposure level.*: ([\d.]+)", done.stdout).group(1)) < 2.0
