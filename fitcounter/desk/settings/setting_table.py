"""What is the shop's choice: how each is read from its field and shown in it."""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.desk.common.translation import say
from fitcounter.desk.settings import setting_readers as readers
from fitcounter.desk.settings import setting_texts as texts
from fitcounter.desk.settings.setting_words import WORDS


class ShopChoice(NamedTuple):
    """One choice. read: from its field's text; show: as its field's text."""

    key: str
    read: readers.Reader
    show: texts.Text = texts.plain

    @property
    def label(self) -> str:
        return say(WORDS[self.key].label)

    @property
    def changes(self) -> str:
        """What it acts on, in one line."""
        return say(WORDS[self.key].changes)

    @property
    def reason(self) -> str:
        """Why it is as it is until the shop says otherwise; "" where nothing is to be said."""
        return say(WORDS[self.key].reason) if WORDS[self.key].reason else ""


CHOICES = {
    choice.key: choice
    for choice in (
        ShopChoice("name", readers.shop_name),
        ShopChoice("phone", readers.phone),
        ShopChoice("address", readers.text),
        ShopChoice("zone", readers.zone),
        ShopChoice("locale", readers.locale),
        ShopChoice("currency", readers.currency),
        ShopChoice("country", readers.country),
        ShopChoice("unit", readers.one_of("in", "cm")),
        ShopChoice("hours", readers.one_of("", "12", "24")),
        ShopChoice("paper", readers.one_of("", "a4", "letter")),
        ShopChoice("slip_paper", readers.one_of("", "a6", "half", "roll80", "roll58")),
        ShopChoice("name_on_tag", readers.yes_or_no, texts.yes_or_no),
        ShopChoice("open_days", readers.weekdays, texts.weekdays),
        ShopChoice("opens_at", readers.clock),
        ShopChoice("closes_at", readers.clock),
        ShopChoice("day_hours", readers.day_hours, texts.day_hours),
        ShopChoice("limits", readers.one_of("careful", "usual")),
        ShopChoice("hold_h", readers.whole(12, 720)),
        ShopChoice("max_rounds", readers.whole(1, 6)),
        ShopChoice("rounds_included", readers.whole(1, 6)),
        ShopChoice("stretch_minor", readers.amount, texts.amount),
        ShopChoice("round_minor", readers.amount, texts.amount),
        ShopChoice("panel_minor", readers.amount, texts.amount),
        ShopChoice("rush_minor", readers.amount, texts.amount),
        ShopChoice("deposit_percent", readers.whole(0, 100)),
        ShopChoice("tax_basis_points", readers.percent, texts.percent),
        ShopChoice("tax_included", readers.yes_or_no, texts.yes_or_no),
        ShopChoice("tax_number", readers.text),
        ShopChoice("price_kind", readers.one_of("quote", "estimate")),
        ShopChoice("heights_mm", readers.heights, texts.heights),
        ShopChoice("guarantee_years", readers.whole(0, 10)),
        ShopChoice("preset", readers.one_of("three-short-wears", "growing")),
        ShopChoice("wear_minutes", readers.minutes, texts.joined),
        ShopChoice("rest_from", readers.one_of("start", "end")),
        ShopChoice("wear_hour", readers.whole(0, 23)),
        ShopChoice("reminders_days", readers.days_after, texts.joined),
        ShopChoice("shelves", readers.shelves, texts.joined),
        ShopChoice("link_days_after", readers.whole(1, 400)),
        ShopChoice("send_link", readers.yes_or_no, texts.yes_or_no),
        ShopChoice("photo_days", readers.whole(1, 3650)),
        ShopChoice("measure_months", readers.whole(1, 240)),
    )
}
