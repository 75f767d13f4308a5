"""A page on the narrowest phone with letters twice as large: what it looks like there."""

from __future__ import annotations

from dataclasses import dataclass, field

from playwright.sync_api import CDPSession, Page

NARROW = 320
HIGH = 780
ONCE = {"standard": 16, "fixed": 13}  # px: what browsers begin with
TWICE = {"standard": 32, "fixed": 26}
# Texts of different elements whose boxes cover each other by half a line and more. A fraction is
# one text in three pieces; the keys of Measure stay above what scrolls behind them.
OVER_EACH_OTHER = """() => {
  const boxes = [], over = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const of = texts.currentNode.parentElement, range = document.createRange();
    if (!texts.currentNode.data.trim() || of.closest('.vh, .skip, .frac, .nav, .entry, svg')) {
      continue;
    }
    range.selectNodeContents(texts.currentNode);
    for (const box of range.getClientRects()) {
      if (box.width > 1 && of.checkVisibility({ visibilityProperty: true })) {
        boxes.push({ box, of, words: texts.currentNode.data.trim().slice(0, 40) });
      }
    }
  }
  boxes.sort((a, b) => a.box.top - b.box.top);
  boxes.forEach((a, i) => {
    for (let j = i + 1; j < boxes.length && boxes[j].box.top < a.box.bottom; j += 1) {
      const b = boxes[j];
      const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
      const high = Math.min(a.box.bottom, b.box.bottom) - b.box.top;
      if (a.of !== b.of && wide > 3 && high > Math.min(a.box.height, b.box.height) / 2) {
        over.push(`${a.words} × ${b.words}`);
      }
    }
  });
  // a column scrolls by itself, for its tables: nothing else in it may be too wide
  const others = [...document.querySelectorAll('.two > .col *')]
    .filter((one) => !one.closest('table, .wide, .scroll'));
  const edges = others.map((one) => Math.floor(one.getBoundingClientRect().right));
  return [Math.max(document.documentElement.scrollWidth, ...edges), over.slice(0, 4)];
}"""


@dataclass
class Crowding:
    """What was found on the way, a line each."""

    visited: int = 0
    too_wide: list[str] = field(default_factory=list)
    over_each_other: list[str] = field(default_factory=list)

    def look(self, page: Page, path: str) -> None:
        """At a page that is open at NARROW, in letters TWICE as large, with all folded open."""
        self.visited += 1
        width, over = page.evaluate(OVER_EACH_OTHER)
        if width > NARROW:
            self.too_wide.append(f"{path}: {width}")
        self.over_each_other += [f"{path}: {two}" for two in over]

    def look_in_passing(self, page: Page, cdp: CDPSession, path: str) -> None:
        """At a page that is open at NARROW in letters of their own size; cdp is its session."""
        cdp.send("Page.setFontSizes", {"fontSizes": TWICE})
        self.look(page, path)
        cdp.send("Page.setFontSizes", {"fontSizes": ONCE})
