"""What is the shop's choice: each with its label, the reason for its default, and what it
changes.
"""

from __future__ import annotations

from dataclasses import dataclass

from fitcounter.desk.settings import choice_readers as readers
from fitcounter.desk.settings import choice_texts as texts


@dataclass(frozen=True, slots=True)
class ShopChoice:
    """One choice.

    reason: why it is as it is until the shop says otherwise; changes: what it acts on.
    """

    key: str
    label: str
    reason: str
    changes: str
    read: readers.Reader
    show: texts.Text


CHOICES = {
    choice.key: choice
    for choice in (
        ShopChoice(
            "name",
            "Name",
            "as customers know it",
            "every paper, her page, what a stranger's scan shows",
            readers.shop_name,
            texts.plain,
        ),
        ShopChoice(
            "phone",
            "Phone",
            "so that she can call",
            "papers, her page, what a stranger's scan shows",
            readers.phone,
            texts.plain,
        ),
        ShopChoice("address", "Address", "", "claim check and receipt", readers.text, texts.plain),
        ShopChoice(
            "zone",
            "Time zone",
            "where the shop stands",
            "today, due hours, her calendar",
            readers.zone,
            texts.plain,
        ),
        ShopChoice(
            "locale",
            "Language and country",
            "how days and sums are written",
            "screens and papers of the shop",
            readers.locale,
            texts.plain,
        ),
        ShopChoice(
            "currency", "Currency", "", "tickets opened from now on", readers.currency, texts.plain
        ),
        ShopChoice(
            "country",
            "Country of phone numbers",
            "numbers without + are read as of here",
            "the look-up at New job",
            readers.country,
            texts.plain,
        ),
        ShopChoice(
            "unit",
            "Tape in",
            "what hangs round the neck",
            "what a bare number means",
            readers.one_of("in", "cm"),
            texts.plain,
        ),
        ShopChoice(
            "open_days",
            "Open days",
            "boots go on and come off on these",
            "every promised day",
            readers.weekdays,
            texts.weekdays,
        ),
        ShopChoice("opens_at", "Opens at", "", "papers", readers.clock, texts.plain),
        ShopChoice(
            "closes_at",
            "Closes at",
            "",
            "the words of a call, the evening sheet",
            readers.clock,
            texts.plain,
        ),
        ShopChoice(
            "limits",
            "How far to go",
            "careful, until ten boots of a leather are in the book: published rules of thumb and"
            " week-long practice differ two- to threefold",
            "round and ceiling of pairs taken in from now on",
            readers.one_of("careful", "usual"),
            texts.plain,
        ),
        ShopChoice(
            "hold_h",
            "Hours on the tree",
            "a week for the set to hold: common practice, no source",
            "rounds, days, the plan",
            readers.whole(12, 720, "hours"),
            texts.plain,
        ),
        ShopChoice(
            "max_rounds",
            "Rounds at most",
            "beyond four, a panel is kinder to leather and purse",
            "the answer, the consent",
            readers.whole(1, 6, "rounds"),
            texts.plain,
        ),
        ShopChoice(
            "rounds_included",
            "Rounds in the price",
            "most pairs are done in two",
            "the offer",
            readers.whole(1, 6, "rounds"),
            texts.plain,
        ),
        ShopChoice(
            "stretch_minor", "A pair stretched costs", "", "the offer", readers.amount, texts.amount
        ),
        ShopChoice(
            "round_minor",
            "A further round costs",
            "",
            "the ceiling of the price",
            readers.amount,
            texts.amount,
        ),
        ShopChoice(
            "panel_minor",
            "A panel costs from",
            "",
            "the answer when it is a panel",
            readers.amount,
            texts.amount,
        ),
        ShopChoice(
            "deposit_percent",
            "Deposit, percent",
            "common practice is none to half",
            "the offer",
            readers.whole(0, 100, "percent"),
            texts.plain,
        ),
        ShopChoice(
            "tax_basis_points",
            "Tax, percent",
            "none until the owner says so",
            "tickets opened from now on",
            readers.percent,
            texts.percent,
        ),
        ShopChoice(
            "tax_included",
            "Tax contained in prices",
            "",
            "how the sum is written",
            readers.yes_or_no,
            texts.yes_or_no,
        ),
        ShopChoice(
            "price_kind",
            "Prices are",
            "a quote binds both, an estimate is approximate; local rules differ",
            "the words of the papers",
            readers.one_of("quote", "estimate"),
            texts.plain,
        ),
        ShopChoice(
            "heights_mm",
            "The shop's heights",
            "about every two and a half inches up the shaft",
            "Measure, boot stick, leg board",
            readers.heights,
            texts.heights,
        ),
        ShopChoice(
            "guarantee_years",
            "Guarantee, years",
            "a year is usual here; the law may give more",
            "receipt, her page",
            readers.whole(0, 10, "years"),
            texts.plain,
        ),
        ShopChoice(
            "preset",
            "Wearing in",
            "three short wears: common practice",
            "calendars from now on",
            readers.one_of("three-short-wears", "growing"),
            texts.plain,
        ),
        ShopChoice(
            "wear_minutes",
            "Minutes of each wear",
            "empty: those of the wearing in above; a pair can have its own at pickup",
            "calendars from now on",
            readers.minutes,
            texts.joined,
        ),
        ShopChoice(
            "rest_from",
            "Rest counts from",
            "from putting on the hour stays the same; from taking off is the strict form",
            "calendars from now on",
            readers.one_of("start", "end"),
            texts.plain,
        ),
        ShopChoice(
            "wear_hour",
            "Usual hour of a wear",
            "most are home by six",
            "the calendar until she chooses",
            readers.whole(0, 23, "the hour"),
            texts.plain,
        ),
        ShopChoice(
            "reminders_days",
            "Reminders, days after ready",
            "common practice; local rules may ask for a notice",
            "calls to make, not fetched",
            readers.days_after,
            texts.joined,
        ),
        ShopChoice(
            "shelves", "Shelves", "", "what is offered at the shelf", readers.shelves, texts.joined
        ),
        ShopChoice(
            "link_days_after",
            "Her link lasts, days past the guarantee",
            "a month to look back",
            "her page",
            readers.whole(1, 400, "days"),
            texts.plain,
        ),
        ShopChoice(
            "photo_days",
            "Photographs are kept, days",
            "three months past pickup answer most questions",
            "erasing by itself",
            readers.whole(1, 3650, "days"),
            texts.plain,
        ),
        ShopChoice(
            "measure_months",
            "Leg girths are kept, months",
            "two years cover the guarantee and one return",
            "erasing by itself",
            readers.whole(1, 240, "months"),
            texts.plain,
        ),
    )
}
