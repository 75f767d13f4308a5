"""The places of the program, a blueprint each."""

from __future__ import annotations

from fitcounter.web.owner_access import bp as owner

BLUEPRINTS = (owner,)
