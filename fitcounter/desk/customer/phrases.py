"""What the shop's file holds in our English, said in the customer's language: things, price lines,
what we saw, how it was paid.

Only our own sentences are known; what somebody typed stays as it was typed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, time

from babel.dates import get_day_names

from fitcounter.desk.common.thing_names import name_of
from fitcounter.desk.common.translation import Speech, marked
from fitcounter.desk.common.usual_work import line_name, work_name
from fitcounter.desk.plan.ready_day import DayState, ReadyDay
from fitcounter.desk.quote import rush
from fitcounter.desk.shop import Shop
from fitcounter.fit.work_timing import LineState
from fitcounter.papers import records as paper
from fitcounter.store.records import Item, PriceLine
from fitcounter.store.works import WorkLine

_PERCENT = re.compile(r"Discount, ([\d.]+)%")
_ROUNDS = re.compile(r"up to (\d+) (?:goes|rounds)$")
# Price lines of ours, as the quote writes them today and as it wrote them before.
LINES = (
    marked("Stretching the pair, one round"),
    marked("Stretching the pair, up to {n} rounds"),
    marked("Stretching the left boot, one round"),
    marked("Stretching the left boot, up to {n} rounds"),
    marked("Stretching the right boot, one round"),
    marked("Stretching the right boot, up to {n} rounds"),
    marked("A panel for the pair"),
    marked("A panel for the left boot"),
    marked("A panel for the right boot"),
    marked("One more round after pickup"),
    marked("One more round after pickup, free by the guarantee"),
    marked(rush.LINE),
    marked("Discount"),
    marked("Discount, {n}%"),
    marked("Work not done"),
    marked("Rounding"),
)
PAID = {
    "deposit": marked("Deposit"),
    "payment": marked("Paid"),
    "refund": marked("Refund"),
    "correction": marked("Correction"),
}
OVER = {
    "skin": marked("bare leg"),
    "sheer": marked("stockings"),
    "sock": marked("socks"),
    "breeches": marked("breeches"),
    "jeans": marked("jeans tucked in"),
}
POSTURE = {"standing": marked("standing"), "seated": marked("seated")}
TOLD = {
    "called": marked("we spoke with you on {day}"),
    "left-word": marked("we left you a message on {day}"),
    "no-answer": marked("we called and nobody answered on {day}"),
    "text": marked("we sent you a text on {day}"),
    "e-mail": marked("we sent you an e-mail on {day}"),
    "letter": marked("we sent you a letter on {day}"),
}
_KIND = re.compile(r"(?:^|\s+)(?:(?:tall|knee|riding|field|lace) )?boots$", re.IGNORECASE)


def price_line(what: str, words: Speech) -> str:
    """A price line of ours in the language of `words`; one that was typed as it is."""
    several, percent = _ROUNDS.search(what), _PERCENT.fullmatch(what)
    sentence = what
    if several:
        sentence = f"{what[: several.start()]}up to {{n}} rounds"
    elif percent:
        return words.say("Discount, {n}%", n=words.decimals(percent[1]))
    elif what.endswith(", one go"):
        sentence = f"{what.removesuffix('go')}round"
    if sentence in LINES:
        return words.say(sentence, n=several[1] if several else "")
    return line_name(what, words) or what


def line_of(line: PriceLine, words: Speech) -> str:
    """The same with the reason of a discount: Discount, 10% (a regular customer)."""
    what = price_line(line.what, words)
    return words.say("{what} ({why})", what=what, why=line.why) if line.why else what


def item_lines(
    held: Sequence[Item], words: Speech, done: Sequence[WorkLine] = ()
) -> tuple[paper.ItemLine, ...]:
    """What was handed in: a pair is one line of two single things. done: other work on them."""
    lines, pairs = [], set()
    for item in held:
        if item.fit_id is None:
            lines.append(
                paper.ItemLine(
                    item.description or words.say(name_of(item)),
                    1,
                    _jobs([item], item.jobs, done, words)
                    if not item.cancelled
                    else words.say("cancelled"),
                )
            )
        elif item.fit_id not in pairs:
            pairs.add(item.fit_id)
            both = [other for other in held if other.fit_id == item.fit_id]
            jobs = _jobs(both, _cancelled(both, words), done, words)
            lines.append(paper.ItemLine(_boots(both, words), len(both), jobs))
    return tuple(lines)


def _jobs(held: Sequence[Item], own: str, done: Sequence[WorkLine], words: Speech) -> str:
    """Other work on these, each once; what is not done after all says so."""
    ids = {one.id for one in held if not one.cancelled}
    named: dict[str, bool] = {}
    for line in done:
        if line.item_id in ids:
            what = work_name(line.what, words)
            named[what] = named.get(what, False) or line.state != LineState.NOT_DONE
    parts = [
        what if is_done else words.say("not done: {work}", work=what)
        for what, is_done in named.items()
    ]
    return "; ".join(part for part in (own, ", ".join(parts)) if part)


def _cancelled(both: Sequence[Item], words: Speech) -> str:
    """Which of a pair is not done any more."""
    gone = [one for one in both if one.cancelled]
    if not gone or len(gone) == len(both):
        return words.say("cancelled") if gone else ""
    left = gone[0].side == "left"
    return words.say("left boot: cancelled") if left else words.say("right boot: cancelled")


def _boots(both: Sequence[Item], words: Speech) -> str:
    """A pair or one boot, and how the shop tells it apart; what that says already is said once, in
    the language of `words`.
    """
    own = both[0].description.strip()
    if len(both) == 2 and words.code == "en" and _KIND.search(own):
        return own
    what = words.say("tall boots") if len(both) == 2 else words.say(name_of(both[0]))
    return f"{what}, {_KIND.sub('', own)}".removesuffix(", ")


def slip(when: ReadyDay, first_promise: str | None, words: Speech) -> str:
    """What the customer is told of a promised day that may not be kept, will not be, or has moved;
    "" where it stands. first_promise: the ISO day promised before any was moved.
    """
    if when.promised is None:
        return ""
    first = date.fromisoformat(first_promise) if first_promise else when.promised
    if when.late and when.day is None:
        day = words.day(when.promised)
        return words.say("We are sorry: we said {day}, and need longer.", day=day)
    if when.day is not None and first < when.day:
        return words.say("We are sorry: before, we said {day}.", day=words.day(first))
    if when.state is DayState.AT_RISK and when.slips_to is not None:
        return words.say("It could also be {day}.", day=words.day(when.slips_to))
    return ""


def head(shop: Shop, words: Speech) -> paper.Letterhead:
    """The head of every paper."""
    alike: dict[tuple[time, time], list[int]] = {}
    for day in sorted(shop.open_days):
        alike.setdefault(shop.hours_on(day), []).append(day)
    hours = "; ".join(_hours(days, *times, words) for times, days in alike.items())
    hours = hours[:1].upper() + hours[1:]
    return paper.Letterhead(shop.name, shop.phone, shop.address, hours, tax_number=shop.tax_number)


def _hours(days: Sequence[int], opens_at: time, closes_at: time, words: Speech) -> str:
    """Weekdays that have the same hours: "Tuesday to Friday, 9 AM to 6 PM"."""
    names = get_day_names("wide", locale=words.locale)
    times = {"opens": words.clock(opens_at), "closes": words.clock(closes_at)}
    if list(days) == list(range(days[0], days[-1] + 1)) and len(days) > 2:
        ends = {"first": names[days[0]], "last": names[days[-1]]}
        return words.say("{first} to {last}, {opens} to {closes}", **ends, **times)
    listed = words.listed([names[day] for day in days])
    return words.say("{days}, {opens} to {closes}", days=listed, **times)
