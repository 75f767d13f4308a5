"""The handbook of figures: each with its source and how far to trust it."""

from __future__ import annotations

from itertools import groupby

from flask import render_template

from fitcounter.desk.rounds.checks_before_a_round import REASONS
from fitcounter.desk.settings.leather_limits import own_texts
from fitcounter.fit.assessment import safety_warnings
from fitcounter.fit.assessment.handbook_notes import beside_the_ceiling, the_saying
from fitcounter.fit.assessment.no_further_round import DAMAGE, SET_SIGNS
from fitcounter.fit.handbook.all_figures import entries
from fitcounter.web.auth.sign_in import bp
from fitcounter.web.guards.access import STAFF, allow, store, the_shop


@bp.get("/handbook")
@allow(*STAFF)
def handbook() -> str:
    """Every figure the answers are made of, with its source and how far to trust it."""
    chapters = [
        (title, list(figures)) for title, figures in groupby(entries(), key=lambda one: one.chapter)
    ]
    said = {
        "damage": DAMAGE.values(),
        "signs": SET_SIGNS.values(),
        "reasons": [words for _, words in REASONS],
        "bench": safety_warnings.BENCH,
    }
    ceiling = [*beside_the_ceiling(the_shop().unit), the_saying()]
    return render_template(
        "shop/handbook.html", chapters=chapters, ceiling=ceiling, own=own_texts(store()), **said
    )
