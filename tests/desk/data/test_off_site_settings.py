"""Where the off-site copy goes: read, kept for one user's eyes, shown without its secrets."""

from __future__ import annotations

from pathlib import Path

import pytest

from fitcounter.desk.data import off_site_settings
from fitcounter.errors import BadInput, NotAllowed

KEYS = {"FITCOUNTER_S3_KEY": "AKIACANARY", "FITCOUNTER_S3_SECRET": "canary"}


def test_an_address_is_read_and_its_secrets_are_never_said(tmp_path: Path):
    address = "s3://boots/a/b?endpoint=https://s3.example.com&region=eu-1"
    place = off_site_settings.from_address(address, KEYS)
    assert (place.bucket, place.folder, place.region) == ("boots", "a/b", "eu-1")
    assert place.where == "s3://boots/a/b"
    assert "canary" not in repr(place).casefold()
    off_site_settings.keep(tmp_path, off_site_settings.draft(tmp_path, place))
    assert off_site_settings.read(tmp_path) == place
    (tmp_path / off_site_settings.FILE).chmod(0o644)
    with pytest.raises(NotAllowed, match="chmod 600"):
        off_site_settings.read(tmp_path)
    with pytest.raises(BadInput, match="two keys"):
        off_site_settings.from_address(address, {})


def test_a_computer_is_read_with_its_port():
    place = off_site_settings.from_address("sftp://ada@boots.example:2222/srv/boots", {})
    assert (place.host, place.port, place.user) == ("boots.example", 2222, "ada")
    assert place.where == "sftp://ada@boots.example:2222/srv/boots"
