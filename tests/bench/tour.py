"""Takes the pictures of the README's tour: every place of the invented shop on a phone of 360
pixels.

python tests/bench/tour.py [folder, seed_scenario/pictures]

The story is played up to a fixed hour, so that the pictures change only when the pages do. Exits 1
when they weigh more than 600 KB.
"""

from __future__ import annotations

import io
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next
from browser.conftest import PHONE
from PIL import Image
from playwright.sync_api import Page, sync_playwright
from support.cast import PASSPHRASE
from support.demo_shop import open_invented

ROOT = Path(__file__).resolve().parents[2]
NOW = datetime(2026, 3, 17, 14, 20, tzinfo=UTC)
MOST_BYTES = 600_000
WIDE_PX = 540


def picture(page: Page) -> bytes:
    """What the phone shows before anybody scrolls, as WebP."""
    with Image.open(io.BytesIO(page.screenshot())) as shot:
        small = shot.convert("RGB").resize(
            (WIDE_PX, round(shot.height * WIDE_PX / shot.width)), Image.Resampling.LANCZOS
        )
    kept = io.BytesIO()
    small.save(kept, "WEBP", quality=82, method=6)
    return kept.getvalue()


def main(folder: Path) -> int:
    folder.mkdir(parents=True, exist_ok=True)
    total = 0
    with (
        tempfile.TemporaryDirectory() as data,
        open_invented(Path(data), NOW) as shop,
        sync_playwright() as playwright,
    ):
        browser = playwright.chromium.launch(
            executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-dev-shm-usage"]
        )
        staff, hers = (
            browser.new_context(**PHONE, reduced_motion="reduce").new_page() for _ in range(2)
        )
        hers.clock.set_fixed_time(NOW)  # her page tells by the phone's clock how old it is
        staff.goto(f"{shop.address}/sign-in")
        staff.fill("[name=initials]", "OW")
        staff.fill("[name=passphrase]", PASSPHRASE)
        with staff.expect_navigation():
            staff.get_by_role("button", name="Sign in").tap()
        for name, path in shop.places().items():
            page = hers if name == "Customer page" else staff
            page.goto(shop.address + path)
            page.wait_for_load_state("networkidle")
            content = picture(page)
            (folder / f"{name.lower().replace(' ', '-').rstrip('?')}.webp").write_bytes(content)
            total += len(content)
            print(f"{name}: {len(content) / 1000:.0f} KB")
        browser.close()
    print(f"together {total / 1000:.0f} KB")
    return int(total > MOST_BYTES)


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / "seed_scenario" / "pictures"))
