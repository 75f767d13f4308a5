"""Whether the computer starts a shop: its unit, and systemd's link that means at boot."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitcounter.desk.data import boot_service


def test_a_shop_starts_at_boot_where_a_unit_for_its_own_folder_is_enabled(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("HOME", str(tmp_path))
    mine, other = Path("/shops/mine"), Path("/shops/other")
    unit = boot_service.folder(system=False) / boot_service.NAME
    unit.parent.mkdir(parents=True)
    unit.write_text(f"{boot_service.DATA}{mine}\n[Unit]\n", encoding="utf-8")
    assert boot_service.of_shop(mine) == ""
    wanted = unit.parent / "default.target.wants" / boot_service.NAME
    wanted.parent.mkdir()
    wanted.symlink_to(unit)
    assert boot_service.of_shop(mine) == boot_service.NAME
    assert boot_service.of_shop(other) == ""
