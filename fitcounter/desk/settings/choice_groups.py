"""The shop's choices in the order an owner looks for them, and the words of those that are one of a
few.
"""

from __future__ import annotations

GROUPS = (
    ("The shop", ("name", "phone", "address", "zone", "locale", "currency", "country", "unit")),
    ("Days and shelves", ("open_days", "opens_at", "closes_at", "shelves")),
    ("Stretching", ("limits", "hold_h", "max_rounds", "heights_mm")),
    (
        "Prices",
        (
            "stretch_minor",
            "rounds_included",
            "round_minor",
            "panel_minor",
            "deposit_percent",
            "price_kind",
            "tax_basis_points",
            "tax_included",
        ),
    ),
    (
        "After pickup",
        (
            "preset",
            "wear_minutes",
            "rest_from",
            "wear_hour",
            "guarantee_years",
            "reminders_days",
            "link_days_after",
        ),
    ),
    ("How long things are kept", ("photo_days", "measure_months")),
)
OPTIONS = {
    "unit": {"in": "inches", "cm": "centimetres"},
    "limits": {"careful": "careful", "usual": "usual"},
    "price_kind": {"quote": "a quote", "estimate": "an estimate"},
    "tax_included": {"no": "no, it is added", "yes": "yes"},
    "preset": {
        "three-short-wears": "three short wears, then ordinary",
        "growing": "growing wears, a day between any two",
    },
    "rest_from": {"start": "putting on", "end": "taking off"},
}
