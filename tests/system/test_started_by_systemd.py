"""The unit as systemd runs it: a manager of its own, in a view of /run of its own, starts the shop,
shuts it in, and starts it again when it was killed.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from support.paths import CHECKOUT

MANAGER = Path("/lib/systemd/systemd")
pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(
        not MANAGER.exists() or shutil.which("unshare") is None or os.geteuid() != 0,
        reason="needs systemd, and root for a view of /run of its own",
    ),
]
SCRIPT = """
mount -t tmpfs tmpfs /run && mkdir -p /run/systemd/system /run/user/0
export XDG_RUNTIME_DIR=/run/user/0
{manager} --user >/dev/null 2>&1 &
for _ in $(seq 50); do systemctl --user list-units >/dev/null 2>&1 && break; sleep 0.2; done
fitcounter() {{ {python} -m fitcounter "$@"; }}
main() {{ systemctl --user show -p MainPID --value fitcounter.service; }}
open() {{ curl -s --retry 60 --retry-delay 1 --retry-connrefused -o /dev/null \
    -w '%{{http_code}}\\n' http://127.0.0.1:{port}/sign-in; }}
fitcounter service install --user --port {port} --off-site {off_site} >/dev/null
open; first=$(main)
grep -E '^(NoNewPrivs|Seccomp):' /proc/$first/status | tr -d '\\t'
kill -9 $first; sleep 1; open; [ "$(main)" != "$first" ] && echo another
fitcounter service status | grep -c "fitcounter.service: active.*at boot: enabled; started again 1"
fitcounter service uninstall | tail -1
main
systemctl --user exit
"""


def test_systemd_starts_the_shop_shuts_it_in_and_starts_it_again(tmp_path: Path):
    port = 18765
    values = {"manager": MANAGER, "python": sys.executable, "port": port}
    script = SCRIPT.format(**values, off_site=tmp_path / "off-site")
    done = subprocess.run(
        ["unshare", "-m", "sh", "-c", script],
        cwd=CHECKOUT,
        env=os.environ | {"HOME": str(tmp_path), "LC_ALL": "C"},
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert done.stdout.split("\n")[:7] == [
        "200",
        "NoNewPrivs:1",
        "Seccomp:2",
        "200",
        "another",
        "1",
        "The shop's data stay as they are.",
    ], done.stderr
