"""What stands in the fields of the owner's page: what is set up, without its secrets."""

from __future__ import annotations

from fitcounter.desk.data import off_site_setup
from fitcounter.desk.data.off_site_settings import S3, SFTP, OffSite


def test_the_fields_hold_what_is_set_up_and_no_secret():
    place = OffSite(kind=S3, folder="a", host="https://x", bucket="b", key="K", secret="S")
    shown = off_site_setup.shown(place, S3)
    assert (shown["bucket"], shown["key"], shown["secret"]) == ("b", "", "")
    assert off_site_setup.shown(place, SFTP)["host"] == ""
