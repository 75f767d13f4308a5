"""Whether the computer starts a shop: its unit, and systemd's link that means at boot."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitcounter.desk.data import started_by_systemd


def test_a_shop_starts_at_boot_where_a_unit_for_its_own_folder_is_enabled(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("HOME", str(tmp_path))
    mine, other = Path("/shops/mine"), Path("/shops/other")
    unit = started_by_systemd.folder(system=False) / started_by_systemd.NAME
    unit.parent.mkdir(parents=True)
    unit.write_text(f"{started_by_systemd.DATA}{mine}\n[Unit]\n", encoding="utf-8")
    assert started_by_systemd.of_shop(mine) == ""
    wanted = unit.parent / "default.target.wants" / started_by_systemd.NAME
    wanted.parent.mkdir()
    wanted.symlink_to(unit)
    assert started_by_systemd.of_shop(mine) == started_by_systemd.NAME
    assert started_by_systemd.of_shop(other) == ""
