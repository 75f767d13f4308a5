"""The bench card of a job, filled from the stored rows."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from fitcounter.desk.assessment.drawing import boot_now
from fitcounter.desk.assessment.standing import (
    LIMIT_WORDS,
    Standing,
    as_measured,
    say_room,
    standing,
)
from fitcounter.desk.bench import other_work
from fitcounter.desk.bench.damage_seen_at_bench import FAULTS
from fitcounter.desk.bench.damage_seen_at_bench import say as finding_words
from fitcounter.desk.bench.put_on_hints import put_on_hints
from fitcounter.desk.common import shop_days
from fitcounter.desk.common.leather_presets import CLOSURES, LEATHERS, LININGS
from fitcounter.desk.common.lengths import say_height, say_length, say_short_by
from fitcounter.desk.common.translation import marked, say, say_n, spoken, told
from fitcounter.desk.common.usual_work import work_name
from fitcounter.desk.customer.phrases import OVER
from fitcounter.desk.documents import orders, paper_sizes
from fitcounter.desk.documents.claim_check_and_tags import head
from fitcounter.desk.plan import ready_day
from fitcounter.desk.rounds.round_seen import RoundSeen, rounds_of
from fitcounter.desk.shop import Shop
from fitcounter.errors import NotFound
from fitcounter.fit.assessment.cheaper_answers import let_in_words, panel_words
from fitcounter.fit.assessment.profile import Profile
from fitcounter.fit.handbook.leg import HEIGHT_STEP_MM, UM_PER_MM
from fitcounter.fit.item_names import State
from fitcounter.papers import bench_records as bench_paper
from fitcounter.store import bench_days, customers, findings, fits, items, tags, tickets
from fitcounter.store.database import Store, utc_time
from fitcounter.store.records import Finding, Item

# a height of the shop's own list this near the tightest place is the tightest place
NEAR_MM = HEIGHT_STEP_MM
METHODS = {
    "outside": marked("read outside at the mark"),
    "inside": marked("read inside at the mark"),
    "flat": marked("laid flat at the mark"),
}


def bench_card(
    store: Store, shop: Shop, ticket_id: int, base_url: str, today: date
) -> bench_paper.BenchCard:
    """One job for the bench, with the ready day as it stands on that day. Raises NotFound where no
    boot on the ticket is made wider.
    """
    ticket = tickets.get(store, ticket_id)
    held = items.of_ticket(store, ticket_id)
    boots = [one for one in held if one.made_wider]
    if not boots:
        raise NotFound(say("No boot on this ticket is made wider, so it needs no bench card."))
    known = ready_day.ready_days(store, shop, today, [ticket_id])
    days = [known.of_item(one, ticket, held) for one in boots]
    worst = ready_day.worst(days)
    return bench_paper.BenchCard(
        shop=head(shop),
        number=str(ticket.number),
        customer=customers.get(store, ticket.customer_id).name,
        promised_on=min((one.promised for one in days if one.promised), default=None),
        when=worst.words(spoken()) if worst.not_on_track else "",
        boots=tuple(_boot(store, shop, one) for one in boots),
        notes=tuple(part for part in (ticket.note, _worn_with(ticket.worn_with)) if part),
        address=f"{base_url.rstrip('/')}/tickets/{ticket_id}",
        paper=paper_sizes.of_pages(shop),
    )


def card_pdf(card: bench_paper.BenchCard) -> bytes:
    """Raises Unavailable."""
    from fitcounter.papers import bench_papers

    return bench_papers.bench_card(card, spoken().say, spoken().locale)


def _worn_with(over: str) -> str:
    return say("worn with {over}", over=say(OVER.get(over, over))) if over else ""


def _boot(store: Store, shop: Shop, item: Item) -> bench_paper.BenchBoot:
    if item.work != "stretch":
        return _paneled(store, shop, item)
    found = standing(store, item)
    turns = rounds_of(store, item.id)
    hints = put_on_hints(store, shop, item, turns, found)
    method = turns[-1].row.method if turns else "outside"
    return replace(
        _described(store, item),
        heights=_heights(found, shop) if found else (),
        target=_target(found, shop) if found else "",
        by_tape=orders.wanted_by_tape(found, item, shop) if found and method == "outside" else "",
        opening=orders.opening(item, hints),
        limit=_limit(found, shop) if found else "",
        tree=hints.tree,
        method=_method(METHODS[method], hints.mark),
        plan=tuple(
            (spoken().day(day), orders.order(what, tree))
            for what, day, tree in orders.steps(bench_days.everything(store).get(item.id))
        ),
        now=_now(store, shop, turns[-1]) if turns and item.state == State.ON_TREE else "",
        hold=_hold(store, shop, item),
        watch=say("Stop at: {faults}.", faults=spoken().listed(_watched(item))),
        drawing=boot_now(found, item, shop) if found else None,
    )


def _paneled(store: Store, shop: Shop, item: Item) -> bench_paper.BenchBoot:
    """A boot that gets leather or elastic let in: how wide at which height, how far down."""
    found = as_measured(store, item)
    if found is None:
        return _described(store, item)
    panel, highest_mm = found.verdict.panel, found.verdict.places[-1].height_mm
    size = ""
    if panel and item.jobs == "panel":
        size = told(panel_words(panel, highest_mm, shop.unit))
    elif panel:
        words = told(let_in_words(panel, highest_mm, shop.unit))
        size = say("{work}: {size}", work=work_name(item.jobs), size=words)
    return replace(
        _described(store, item),
        heights=_heights(found, shop),
        target=_target(found, shop),
        panel=size,
        drawing=boot_now(found, item, shop),
    )


def _described(store: Store, item: Item) -> bench_paper.BenchBoot:
    """What stands on the card of any boot: its side, its tag, what it is made of, what was seen."""
    tag = tags.of_item(store, item.id)
    return bench_paper.BenchBoot(
        side="left" if item.side == "left" else "right",
        tag_number=str(tag.number) if tag and tag.number else "",
        title=item.description,
        made_of=_made_of(item),
        findings=tuple(_finding(one) for one in findings.of_item(store, item.id)),
        work=tuple(one.words for one in other_work.of_item(store, item)),
    )


def _now(store: Store, shop: Shop, last: RoundSeen) -> str:
    """ "Tree 4 · setting 6 · 15 in on the tree · comes off Tue, Dec 1, 9:00 AM"."""
    setting = next((one.setting_text for one in reversed(last.turns) if one.setting_text), "")
    on_tree, due = last.on_tree_um, last.row.due_off_at
    off = shop_days.of_bench(store, shop).next_opening(shop.local(utc_time(due))) if due else None
    parts = (
        say("Tree {tree}", tree=last.tree) if last.tree else "",
        say("setting {setting}", setting=setting) if setting else "",
        say("{girth} on the tree", girth=say_length(on_tree / UM_PER_MM, shop.unit))
        if on_tree
        else "",
        say("comes off {moment}", moment=spoken().moment(off)) if off else "",
    )
    return " · ".join(part for part in parts if part)


def _hold(store: Store, shop: Shop, item: Item) -> str:
    """How long each round stays on the tree."""
    hold_h = fits.get(store, item.fit_id).hold_h if item.fit_id else shop.hold_h
    if hold_h % 24:
        return say("{hours} h", hours=hold_h)
    return say_n("{count} day", "{count} days", hold_h // 24)


def _watched(item: Item) -> list[str]:
    """The faults that this boot can have, in the words of the bench's list."""
    cannot = {
        "grain-whitening": item.material == "split-suede",
        "zip-off": item.closure != "zip",
        "zip-gaping": item.closure != "zip",
        "lining-tearing": item.lining == "none",
        "elastic-torn": True,  # an elastic gusset is not written down; it is seen on the boot
        "stained": True,
    }
    return [say(words) for code, words in FAULTS.items() if not cannot.get(code)]


def _method(words: str, mark: str) -> str:
    if not mark:
        return say(words)
    return say("{method}, {height} up", method=say(words), height=mark)


def _finding(one: Finding) -> str:
    words = finding_words(one.word)
    if not one.place:
        return words
    return say("{finding}, {place}", finding=words, place=one.place)


def _heights(found: Standing, shop: Shop) -> tuple[bench_paper.BenchHeight, ...]:
    """The shop's own heights as far as boot and target share them, and the tightest place, from the
    top down; inside girths.
    """
    places, worst = found.verdict.places, found.verdict.worst
    girths = Profile.straight((place.height_mm, place.girth_mm) for place in places)
    needs = Profile.straight((place.height_mm, place.need_mm) for place in places)
    low, high = girths.span
    own = {
        height
        for height in shop.heights_mm
        if low <= height <= high and abs(height - worst.height_mm) > NEAR_MM
    }
    return tuple(
        _height(height, girths, needs, worst.height_mm, shop)
        for height in sorted({*own, worst.height_mm}, reverse=True)
    )


def _height(
    height_mm: float, girths: Profile, needs: Profile, worst_mm: float, shop: Shop
) -> bench_paper.BenchHeight:
    girth, need = girths.at(height_mm), needs.at(height_mm)
    return bench_paper.BenchHeight(
        height=say_height(height_mm, shop.unit),
        girth=say_length(girth, shop.unit),
        wanted=say_length(girth + need, shop.unit),
        short_by=say_short_by(need, shop.unit) if need > 0 else "",
        tightest=height_mm == worst_mm,
    )


def _target(found: Standing, shop: Shop) -> str:
    worst = found.verdict.worst
    return say(
        "{girth} inside at {height}",
        girth=say_length(worst.girth_mm + worst.need_mm, shop.unit),
        height=say_height(worst.height_mm, shop.unit),
    )


def _made_of(item: Item) -> str:
    """Leather, lining and closure, in the words of the counter."""
    lining = say("unlined")
    if item.lining != "none":
        lining = say("lining: {lining}", lining=say(LININGS[item.lining]))
    closure = say(CLOSURES[item.closure]) if item.closure in CLOSURES else ""
    return " · ".join(part for part in (say(LEATHERS[item.material]), lining, closure) if part)


def _limit(found: Standing, shop: Shop) -> str:
    bounds = found.bounds_mm(None)
    name = min(LIMIT_WORDS, key=lambda one: bounds.get(one, float("inf")))
    return say(
        "{limit} {amount}", limit=say(LIMIT_WORDS[name]), amount=say_room(bounds[name], shop.unit)
    )
