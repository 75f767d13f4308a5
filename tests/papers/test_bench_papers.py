"""The bench's own papers: bench card, evening sheet, slips for a day on paper, wall strip."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from papers.paper_records import BOOT, CARD, DRAWN, EVENING, ROW, SLIPS, WALL, printed

from fitcounter.papers import bench_records as bench
from fitcounter.papers import records
from fitcounter.papers.bench_papers import bench_card, blank_slips, evening_sheet, wall_strip


def test_a_bench_card_draws_the_boot_and_says_the_drawing_in_words(reader):
    """The drawing is read aloud in a sentence; a boot nobody measured has none, and the card is
    whole without it.
    """
    drawn, plain = (
        bench_card(replace(CARD, boots=(replace(BOOT, drawing=one),))) for one in (DRAWN, None)
    )
    assert any(DRAWN.description in alt for alt in reader.said_of_pictures(drawn))
    assert "tightest place" in DRAWN.description
    assert "inches up" in reader.text(drawn)
    assert "inches up" not in reader.text(plain)
    assert len(reader.said_of_pictures(drawn)) == len(reader.said_of_pictures(plain)) + 1


def test_a_long_title_on_a_bench_card_leaves_the_drawing_alone(reader):
    """What the boot is called in three lines lies beside the drawing, not on it."""
    blank = bench.BenchBoot("left", "", "")

    def ink(boot):
        picture = np.asarray(reader.picture(bench_card(replace(CARD, boots=(boot,))), 0, 100)) < 128
        return picture[:, 120:390]  # between the black edge and the other boot

    named = replace(blank, title="black synthetic knee boots with a strap at the calf")
    always, title, drawing = ink(blank), ink(named), ink(replace(blank, drawing=DRAWN))
    first = np.flatnonzero((drawing & ~always).any(axis=1))[0]
    rows = slice(
        first, first + 100
    )  # an inch of it; what stands below it moves with the height of all this
    assert (title & ~always)[rows].any()
    assert not (title & drawing & ~always)[rows].any()


def test_an_evening_of_eighty_jobs_has_every_one(reader):
    """Eighty jobs take as many pages as they need, none is lost, the head is repeated, lateness is
    a word.
    """
    jobs = tuple(
        replace(ROW, number=str(n), late=n % 10 == 0, rush=n == 1005) for n in range(1000, 1080)
    )
    pdf = evening_sheet(replace(EVENING, jobs=jobs))
    text = reader.text(pdf)
    assert all(str(job.number) in text for job in jobs)
    assert "80, 8 of them late" in text
    assert text.count("Rush job") == 1
    assert all("Customer, phone" in page for page in reader.pages(pdf)[:-1])


def test_an_evening_without_jobs_says_so(reader):
    """An empty shop gets a sheet that says it is empty."""
    assert "No ticket is open." in reader.text(
        evening_sheet(replace(EVENING, jobs=(), trees=(), to_call=(), to_do_tomorrow=()))
    )


def test_the_slips_follow_the_screens(reader):
    """New job, Measure, then bench and pickup; every height of the shop has its row, with two more
    to fill in.
    """
    text = reader.text(printed(blank_slips, SLIPS))
    screens = (
        "New job",
        "The boots",
        "What we saw",
        "How much",
        "Measure",
        "Can it be done?",
        "Bench and pickup",
    )
    places = [text.index(words) for words in screens]
    assert places == sorted(places)
    assert "6 8 10 1/2 12 top" in text
    assert text.count("New job, on paper") == 2


def test_the_wall_strip_leads_to_every_tree(reader):
    """Six trees, six squares, each with its own address; the side stands as a word beside the black
    edge.
    """
    trees = tuple(
        records.WallTree(f"K{n}", "7K3M9QXWE", f"https://b.example/t/{n}", side)
        for n, side in enumerate(("left", "right", "either") * 2)
    )
    pdf = wall_strip(replace(WALL, trees=trees))
    seen = {text for text, _ in reader.codes(reader.picture(pdf))}
    assert seen == {f"HTTPS://B.EXAMPLE/T/{n}" for n in range(6)}
    assert "Left or right" in reader.text(pdf)
