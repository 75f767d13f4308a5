"""`certificate`: HTTPS for the shop's own phones, without a name of its own."""

from __future__ import annotations

import argparse
import os
from datetime import UTC, datetime

from fitcounter.serving import certificate as serving_certificate
from fitcounter.serving import certificate_hand_out
from fitcounter.settings import Settings, prepare_data_dir


def certificate(given: argparse.Namespace) -> int:
    """Make the shop's own certificate, show it, or hand its authority out to the shop's phones."""
    settings = Settings.from_environment(
        os.environ, {"data": given.data, "host": "0.0.0.0", "port": given.hand_out}
    )
    folder = prepare_data_dir(settings.data_dir) / "certificate"
    now = datetime.now(UTC)
    if given.names:
        serving_certificate.make(folder, given.names, given.shop, now)
    print(serving_certificate.describe(folder, now))
    if given.hand_out:
        certificate_hand_out.hand_out(folder, settings)
    return 0
