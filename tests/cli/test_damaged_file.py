"""What a command does with an error that a damaged file causes, and with any other."""

from __future__ import annotations

import argparse

import pytest

from fitcounter.cli import damaged_file
from fitcounter.errors import Damaged, NotFound
from fitcounter.store.database import dbapi


@pytest.mark.parametrize(
    ("error", "becomes"),
    [
        (dbapi.DatabaseError("database disk image is malformed"), Damaged),
        (dbapi.OperationalError("disk I/O error"), Damaged),
        (dbapi.OperationalError("no such table: items"), dbapi.OperationalError),
        (NotFound("There is none."), NotFound),
        (ValueError("malformed"), ValueError),
    ],
)
def test_only_what_a_damaged_file_causes_is_named_so(
    error: Exception, becomes: type[Exception]
) -> None:
    def fails(given: argparse.Namespace) -> int:
        """A command."""
        raise error

    with pytest.raises(becomes):
        damaged_file.named(fails)(argparse.Namespace())
    assert damaged_file.named(fails).__doc__ == "A command."
