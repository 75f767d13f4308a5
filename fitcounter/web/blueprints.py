"""The places of the program, a blueprint each."""

from __future__ import annotations

from fitcounter.web import (  # noqa: F401  # their views join those of the bench and of the counter
    bench_papers,
    bench_plan,
    bench_trees,
    comeback,
    counter_agree,
    counter_already,
    counter_measure,
    counter_money,
    counter_new,
    counter_paper,
    counter_verdict,
    her_details,
    her_link,
    incidents,
    me,
    owner_book,  # a view of the owner's place
    owner_choices,
    owner_customers,
    owner_leathers,
    owner_people,
    owner_phones,
    retag,
    setting_up,
    shop_papers,
)
from fitcounter.web.app_shell import bp as app_shell
from fitcounter.web.bench import bp as bench
from fitcounter.web.counter import bp as counter
from fitcounter.web.customer import bp as customer
from fitcounter.web.items import bp as items
from fitcounter.web.owner_access import bp as owner
from fitcounter.web.papers import bp as papers
from fitcounter.web.parked import bp as parked
from fitcounter.web.photos import bp as photos
from fitcounter.web.pickup import bp as pickup

BLUEPRINTS = (app_shell, owner, counter, papers, items, bench, pickup, customer, parked, photos)
