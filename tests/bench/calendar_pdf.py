"""How much our calendar PDF costs beside the PDF library alone: `python
tests/bench/calendar_pdf.py`.

Both set one page of the same length with the same letters, warm, in turns, so that a busy machine
slows both. Alone means: plain paragraphs and a table without classes, the library called as its
manual says, with its letters loaded once as well. Ours is what this process uses and what the
process beside it does, where the library is. Exits 1 when ours is over 1.4 ×.
"""

from __future__ import annotations

import statistics
import time
from datetime import UTC, date, datetime
from pathlib import Path

import checkout_path  # noqa: F401 - finds the next

from fitcounter.desk.customer.calendar import TEXTS
from fitcounter.fit.wear.rest import clock
from fitcounter.fit.wear.wear import preset
from fitcounter.fit.wear.wear_calendar import make_plan
from fitcounter.papers.calendar_days import cautions, day_lines
from fitcounter.papers.calendar_pdf import calendar_pdf
from fitcounter.papers.calendar_records import CalendarSheet, WearLine
from fitcounter.papers.html import in_english
from fitcounter.papers.own_process import PRESS

ROOT = Path(__file__).resolve().parents[2]
LIMIT = 1.4
ROUNDS = 30
SPOKEN = TEXTS | {"call": "Questions? Call Quillmarsh Leather Bench, 555 0142."}


def the_sheet() -> CalendarSheet:
    """A calendar of the usual length: the growing preset, two weeks."""
    plan = make_plan(
        datetime(2026, 4, 24, 15, tzinfo=UTC), clock("America/New_York", 18, 0), preset("growing")
    )
    zone = plan.clock.zone
    wears = []
    for wear in plan.wears:
        begin, end = (
            moment.astimezone(zone).replace(tzinfo=None) for moment in (wear.began, wear.ended)
        )
        wears.append(
            WearLine(
                wear.n,
                begin,
                end,
                wear.minutes,
                wear.state,
                f"Boots on for {wear.minutes} minutes ({wear.n} of 3)",
            )
        )
    return CalendarSheet(
        "Quillmarsh Leather Bench",
        "555 0142",
        "Marisol",
        "en",
        plan.zone,
        "6f1c",
        0,
        datetime(2026, 4, 24, 15, tzinfo=UTC),
        tuple(wears),
        plan.ordinary_from,
        plan.first_whole_day,
        date(2027, 4, 25),
        SPOKEN,
        ("Your left boot gave 9/16 in.", "Your right boot gave 11/16 in."),
    )


def plain_page(sheet: CalendarSheet) -> str:
    """The same words as plain HTML: a heading, a table of the days, paragraphs."""
    lines = day_lines(sheet, in_english)
    rows = "".join(
        f"<tr><th>{line.weekday} {line.date_words}<td>{line.title}<br>{line.detail}<br>on at off at"
        for line in lines
    )
    said = (
        SPOKEN["why"],
        SPOKEN["stop"],
        *cautions(in_english),
        *sheet.what_boots_did,
        SPOKEN["guarantee"],
        SPOKEN["guarantee_more"],
    )
    paragraphs = "".join(f"<p>{sentence}" for sentence in said)
    head = (
        f"<html lang=en><title>{SPOKEN['calendar']}</title><p>{sheet.shop_name}"
        f" {SPOKEN['call']}<h1>{SPOKEN['calendar']}</h1>"
    )
    return f"{head}<table>{rows}</table>{paragraphs}"


def used() -> float:
    """Seconds of the processor that this process and the one of the press have used so far."""
    pid = PRESS.pid
    # the kernel's number for the processor clock of a process, see clock_getcpuclockid(3)
    beside = time.clock_gettime(~pid << 3 | 2) if pid else 0.0
    return time.process_time() + beside


def measure() -> tuple[float, float, int, int]:
    """(median seconds of ours, median seconds of the library alone, pages of ours, pages alone)."""
    import pypdf
    from weasyprint import CSS, HTML
    from weasyprint.text.fonts import FontConfiguration

    sheet = the_sheet()
    fonts = FontConfiguration()
    faces = "".join(
        f'@font-face {{ font-family: "{name}"; src:'
        f' url("{(ROOT / "static" / "fonts" / file).as_uri()}"); font-weight: {weight} }}'
        for name, file, weight in (
            ("S", "SourceSans3-Regular.ttf", 400),
            ("S", "SourceSans3-Bold.ttf", 700),
            ("R", "SourceSerif4-Regular.ttf", 400),
            ("R", "SourceSerif4-Bold.ttf", 700),
        )
    )
    style = CSS(
        string=faces
        + "html { font: 8pt/1.25 R } table { font: 8pt/1.25 S } td, th { padding: 0 } @page {"
        " margin: 13mm }",
        font_config=fonts,
    )
    html = plain_page(sheet)

    def alone() -> bytes:
        return HTML(string=html).write_pdf(
            stylesheets=[style], font_config=fonts, pdf_variant="pdf/ua-1"
        )

    def ours() -> bytes:
        return calendar_pdf(sheet)

    times: dict[str, list[float]] = {"ours": [], "alone": []}
    for number in range(ROUNDS + 3):
        for name, make in (("ours", ours), ("alone", alone)):
            begin = used()
            make()
            if number >= 3:
                times[name].append(used() - begin)
    import io

    pages = [len(pypdf.PdfReader(io.BytesIO(make())).pages) for make in (ours, alone)]
    return statistics.median(times["ours"]), statistics.median(times["alone"]), *pages


def main() -> int:
    """Prints the ratio; 1 when it is over the limit."""
    ours, alone, our_pages, alone_pages = measure()
    ratio = ours / alone
    print(
        f"calendar PDF, warm: ours {ours * 1000:.1f} ms ({our_pages} page), library alone"
        f" {alone * 1000:.1f} ms ({alone_pages} page)"
    )
    print(f"ratio {ratio:.2f} (at most {LIMIT})")
    return int(ratio > LIMIT)


if __name__ == "__main__":
    raise SystemExit(main())
