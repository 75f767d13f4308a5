"""What each of the shop's settings is called, what it changes, and why it is as it is at first."""

from __future__ import annotations

from typing import NamedTuple

from fitcounter.desk.common.translation import marked


class ChoiceWords(NamedTuple):
    """Sentences for the catalogue. changes: in one line; reason: behind a tap, "" for none."""

    label: str
    changes: str
    reason: str = ""


WORDS = {
    "name": ChoiceWords(
        marked("Name"),
        marked("On every paper, on customers’ pages, and when a stranger scans a tag."),
    ),
    "phone": ChoiceWords(
        marked("Phone"), marked("On papers, on customers’ pages, and when a stranger scans a tag.")
    ),
    "address": ChoiceWords(marked("Address"), marked("On the claim check and the receipt.")),
    "zone": ChoiceWords(
        marked("Time zone"),
        marked("Pick the city whose time your shop uses. Days and hours everywhere follow it."),
    ),
    "locale": ChoiceWords(
        marked("Language and country"),
        marked("The language of the shop’s pages, and how dates and amounts are written."),
    ),
    "hours": ChoiceWords(marked("Hours"), marked("How hours are written on pages and papers.")),
    "paper": ChoiceWords(marked("Paper"), marked("The size of the shop’s papers to print.")),
    "slip_paper": ChoiceWords(
        marked("Paper for claim checks, receipts and tills"),
        marked("A till roll is cut where the words end. Choose the same size in your printer."),
    ),
    "name_on_tag": ChoiceWords(
        marked("Customer’s name on the tag"),
        marked("On tags printed from now on. Anybody who sees the boot can read the name."),
    ),
    "currency": ChoiceWords(
        marked("Currency"), marked("For tickets opened from now on. Check your prices too.")
    ),
    "country": ChoiceWords(
        marked("Country of phone numbers"),
        marked("Numbers without + are read as numbers of this country."),
    ),
    "unit": ChoiceWords(
        marked("Tape"), marked("The unit of lengths on every page, and of a number typed alone.")
    ),
    "open_days": ChoiceWords(
        marked("Open days"),
        marked("Boots go on and come off the tree on these days. Promised days follow them."),
    ),
    "day_hours": ChoiceWords(
        marked("Hours of a single day"),
        marked("Like 09:00 and 13:00. Leave a day empty where it has the usual hours."),
    ),
    "opens_at": ChoiceWords(
        marked("Usually opens at"), marked("On papers, on customers’ pages and in messages.")
    ),
    "closes_at": ChoiceWords(
        marked("Usually closes at"),
        marked("In messages to customers. The evening sheet is made then."),
    ),
    "limits": ChoiceWords(
        marked("How far to stretch"),
        marked("How much one round, and all rounds, may stretch pairs taken in from now on."),
        marked(
            "Careful says “add a panel” to many boots that usual would stretch. Published rules of"
            " thumb and week-long practice differ two- to threefold."
        ),
    ),
    "hold_h": ChoiceWords(
        marked("Hours on the tree"),
        marked("How long one round takes, and so every ready day."),
        marked("A week lets the stretch hold. This is common practice, without a source."),
    ),
    "max_rounds": ChoiceWords(
        marked("Rounds at most"),
        marked("What you offer the customer, and what the customer signs."),
        marked("After four rounds, a panel is kinder to the leather and costs less."),
    ),
    "rounds_included": ChoiceWords(
        marked("Rounds in the price"),
        marked("How many rounds the price of a pair includes."),
        marked("Most pairs are done in two rounds."),
    ),
    "stretch_minor": ChoiceWords(
        marked("Price of stretching a pair"), marked("The price you offer.")
    ),
    "round_minor": ChoiceWords(
        marked("Price of one more round"), marked("The highest price the customer agrees to.")
    ),
    "panel_minor": ChoiceWords(
        marked("Price of a panel, from"), marked("The price you offer when a panel is needed.")
    ),
    "rush_minor": ChoiceWords(
        marked("Price of a rush job"),
        marked("Added to the price of a job that goes first. 0 if it is free."),
    ),
    "deposit_percent": ChoiceWords(
        marked("Deposit in percent"),
        marked("The deposit you ask for when a job is agreed."),
        marked("Shops ask for anything from nothing to half."),
    ),
    "tax_basis_points": ChoiceWords(
        marked("Tax in percent"), marked("For tickets opened from now on. 0 for no tax.")
    ),
    "tax_included": ChoiceWords(
        marked("Are prices with tax?"), marked("How the total is written on tickets and papers.")
    ),
    "tax_number": ChoiceWords(marked("Tax number"), marked("At the head of every paper.")),
    "price_kind": ChoiceWords(
        marked("Prices are"),
        marked("The word on papers: quote or estimate."),
        marked("A quote binds both sides; an estimate is approximate. Local law differs."),
    ),
    "heights_mm": ChoiceWords(
        marked("Heights to measure at"),
        marked("On the Measure page, the boot stick and the leg board."),
    ),
    "guarantee_years": ChoiceWords(
        marked("Guarantee in years"),
        marked("On the receipt and on customers’ pages."),
        marked("One year is usual. The law may give the customer more."),
    ),
    "preset": ChoiceWords(
        marked("Wearing in"),
        marked("For wearing-in calendars made from now on."),
        marked("Three short wears are common practice."),
    ),
    "wear_minutes": ChoiceWords(
        marked("Minutes of each wear"),
        marked("Minutes with commas between, like 30, 60, 120. Empty: as set under Wearing in."),
        marked("At pickup, each pair can have minutes of its own."),
    ),
    "rest_from": ChoiceWords(
        marked("Rest counts from"),
        marked("When the next wear may start, in calendars made from now on."),
        marked("From putting on keeps the same hour every day. From taking off is stricter."),
    ),
    "wear_hour": ChoiceWords(
        marked("Hour of a wear, 0 to 23"),
        marked("For calendars, until the customer picks another time."),
        marked("Most people are home by six in the evening."),
    ),
    "reminders_days": ChoiceWords(
        marked("Reminders, days after ready"),
        marked("When Calls to make and Not picked up remind you. Days with commas between."),
        marked("Common practice. The law may ask for a notice before you sell or give away goods."),
    ),
    "shelves": ChoiceWords(
        marked("Shelves"), marked("The shelves to pick from, with commas between, like C1, C2.")
    ),
    "link_days_after": ChoiceWords(
        marked("Customer’s page, days after the guarantee"),
        marked("How long a customer’s link still opens."),
        marked("A month leaves time to look something up."),
    ),
    "send_link": ChoiceWords(
        marked("Customer’s link in messages"),
        marked("In messages, where the shop’s address opens at home too."),
        marked("Switch it off if your address opens inside the shop only."),
    ),
    "photo_days": ChoiceWords(
        marked("Days to keep photos"),
        marked("Photos are erased this many days after pickup."),
        marked("Three months answer most questions."),
    ),
    "measure_months": ChoiceWords(
        marked("Months to keep leg measurements"),
        marked("Leg measurements are erased this many months after pickup."),
        marked("Two years cover the guarantee and one return."),
    ),
}
