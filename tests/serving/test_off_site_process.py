"""What the owner set up is followed while the shop is served, and no longer than that."""

from __future__ import annotations

from pathlib import Path

import pytest
from support.followed_shop import across_at, needs_litestream, wait_for

from fitcounter.desk.data import off_site_settings
from fitcounter.desk.data.off_site_settings import FOLDER, OffSite
from fitcounter.desk.shop import Store
from fitcounter.serving import off_site_process
from fitcounter.store import job_log

pytestmark = [*needs_litestream, pytest.mark.slow]


def test_it_begins_with_what_is_set_up_and_ends_with_it(
    store: Store, tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
):
    second = tmp_path_factory.mktemp("second")
    with off_site_process.following(tmp_path, look_s=0.05):
        assert not job_log.is_followed(tmp_path)
        off_site_settings.keep(
            tmp_path, off_site_settings.draft(tmp_path, OffSite(kind=FOLDER, folder=str(second)))
        )
        wait_for(lambda: across_at(tmp_path))
        assert job_log.is_followed(tmp_path)
        off_site_settings.forget(tmp_path)
        wait_for(lambda: not job_log.is_followed(tmp_path))
    assert [one.name for one in second.glob("live-*/shop.json")] == ["shop.json"]


def test_why_it_ended_is_on_the_health_page(store: Store, tmp_path: Path):
    with off_site_process.following(tmp_path, look_s=0.05):
        off_site_settings.keep(
            tmp_path, off_site_settings.draft(tmp_path, OffSite(kind=FOLDER, folder="/proc/nobody"))
        )
        wait_for(lambda: job_log.read(tmp_path, job_log.SECOND))
    [noted] = job_log.read(tmp_path, job_log.SECOND).values()
    assert "cannot be made" in noted.fault
    assert noted.made == "/proc/nobody"
