"""The places of the program, a blueprint each."""

from __future__ import annotations

from fitcounter.web.bench import bp as bench
from fitcounter.web.items import bp as items
from fitcounter.web.owner_access import bp as owner

BLUEPRINTS = (owner, items, bench)
