"""Whether somebody is at the shop now, in the customer's language."""

from __future__ import annotations

from datetime import datetime

from fitcounter.desk.common import shop_days
from fitcounter.desk.common.translation import Speech
from fitcounter.desk.shop import Shop
from fitcounter.store.database import Store


def opening_words(store: Store, shop: Shop, now: datetime, words: Speech) -> str:
    """Open until when today, else when it opens next. now: aware."""
    days, local = shop_days.of_shop(store, shop), shop.local(now)
    opens = days.next_opening(local)
    if opens == local:
        closes = datetime.combine(local.date(), days.hours_on(local.date())[1], local.tzinfo)
        return words.say("Open today until {time}.", time=words.clock(closes))
    if opens.date() == local.date():
        return words.say("Closed now. Opens today at {time}.", time=words.clock(opens))
    return words.say(
        "Closed now. Opens {day} at {time}.", day=words.day(opens.date()), time=words.clock(opens)
    )
