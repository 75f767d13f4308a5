"""axe-core on one page after another: what no screen reader, no eye and no thumb gets past.

Its script is put into every page of a context as it opens, and only what is barred comes back from
it: to send the one and to read the other took more than axe itself. Contrast is half of its work:
it is measured in both themes, once for all texts that share what decides it.
"""

from __future__ import annotations

from typing import Any

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import BrowserContext, Page

# the rules that hang on colour, and so on the theme
ON_COLOUR = ("color-contrast", "link-in-text-block")
EVERYTHING: dict[str, Any] = {"resultTypes": ["violations"]}
# what OUTSIDE asks at a tenth of the cost; "region" alone was nearly half of axe's work
LANDMARKS = "region"
STRUCTURE: dict[str, Any] = {
    "resultTypes": ["violations"],
    "rules": {rule: {"enabled": False} for rule in (*ON_COLOUR, LANDMARKS)},
}
# the rules that hang on words, and so on the language: names, titles and what is said to be read
WORDS: dict[str, Any] = {
    "resultTypes": ["violations"],
    "runOnly": [
        "aria-command-name",
        "aria-input-field-name",
        "aria-toggle-field-name",
        "button-name",
        "document-title",
        "empty-heading",
        "form-field-multiple-labels",
        "html-has-lang",
        "html-lang-valid",
        "image-alt",
        "input-button-name",
        "label",
        "label-content-name-mismatch",
        "landmark-unique",
        "link-name",
        "role-img-alt",
        "select-name",
        "summary-name",
        "svg-img-alt",
        "table-duplicate-name",
        "valid-lang",
    ],
}
COLOURS: dict[str, Any] = {"resultTypes": ["violations"], "runOnly": list(ON_COLOUR)}
SURE_OR_NOT = {**COLOURS, "resultTypes": ["violations", "incomplete"], "elementRef": True}
# 7 to 1, WCAG 2.2, 1.4.6; what has not even 4.5 is the other rule's
STRONG = {**SURE_OR_NOT, "runOnly": [*ON_COLOUR, "color-contrast-enhanced"]}
LOOKS = 3  # a text over which axe is unsure is measured on as many pages
ON_THE_PAGE = "(options) => axe.run(options).then((answer) => answer.violations)"
# Words, pictures and fields that stand in no landmark; the way past the head of the page is none.
OUTSIDE = """() => {
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const all = new Set(document.querySelectorAll('img, svg[role=img], input, select, textarea'));
  while (texts.nextNode()) {
    if (texts.currentNode.data.trim()) all.add(texts.currentNode.parentElement);
  }
  return [...all].filter((one) => !one.closest('header, nav, main, footer, dialog, .skip, script,'
    + ' style, noscript, template, [role=alert], [role=status], [aria-live]')
    && one.checkVisibility({ visibilityProperty: true })).map((one) => ({ html: one.outerHTML }));
}"""
# What decides a contrast: the letters' colour, size and weight, the grounds under them, and the
# classes that choose these in the other theme.
TEXTS = """() => {
  const grounds = new Map([[document, '']]);
  const ground = (one) => {
    if (!grounds.has(one)) {
      const { backgroundColor, backgroundImage, opacity } = getComputedStyle(one);
      const own = [backgroundColor, backgroundImage, opacity].join(' ');
      const clear = own === 'rgba(0, 0, 0, 0) none 1';
      grounds.set(one, ground(one.parentNode) + (clear ? '' : `/${own}`));
    }
    return grounds.get(one);
  };
  const name = (one) =>
    `${one.localName}.${one.getAttribute('class')}.${one.dataset.side || ''}`;
  window.texts = new Map();
  for (const one of document.querySelectorAll('body *')) {
    const words = [...one.childNodes].some((each) => each.nodeType === 3 && each.data.trim());
    if ((!words && !one.matches('a, input, select, textarea'))
      || !one.checkVisibility({ visibilityProperty: true })) continue;
    const { color, fontSize, fontWeight, textDecorationLine } = getComputedStyle(one);
    const key = [name(one.parentElement), name(one), ground(one), color, fontSize, fontWeight,
      textDecorationLine].join(' ');
    if (!window.texts.has(key)) window.texts.set(key, one);
  }
  return [...window.texts.keys()];
}"""
ON_TEXTS = """async ([keys, options]) => {
  const { violations, incomplete } = await axe.run(
    { include: keys.map((key) => window.texts.get(key)) }, options);
  const unsure = incomplete.flatMap((one) => one.nodes.map((node) => node.element));
  return {
    violations: violations.map(({ id, nodes }) =>
      ({ id, nodes: nodes.map(({ html }) => ({ html })) })),
    unsure: keys.filter((key) => unsure.includes(window.texts.get(key))),
  };
}"""


def prepare(context: BrowserContext) -> None:
    """Every page that is opened in this context has axe on it from its beginning."""
    context.add_init_script(AXE_SCRIPT)


def inject(page: Page) -> None:
    """The page that is open has axe on it."""
    page.evaluate(AXE_SCRIPT)


def barred(page: Page, options: dict[str, Any]) -> list[dict[str, Any]]:
    """What axe finds on the whole page by these options: its violations; by STRUCTURE also the
    what stands in no landmark.
    """
    found = list(page.evaluate(ON_THE_PAGE, options))
    if options is STRUCTURE and (nodes := page.evaluate(OUTSIDE)):
        found.append({"id": LANDMARKS, "nodes": nodes})
    return found


class Contrasts:
    """The contrast of every text that was not measured before, in both themes. options: the rules
    it is held to.
    """

    def __init__(self, options: dict[str, Any] = SURE_OR_NOT) -> None:
        self._looks: dict[str, int] = {}
        self._options = options

    def barred(self, page: Page) -> list[tuple[str, dict[str, Any]]]:
        """(theme, violation) of the page that is open."""
        new = [key for key in page.evaluate(TEXTS) if self._looks.get(key, 0) < LOOKS]
        found, unsure = [], set()
        for theme in ("light", "dark") if new else ():
            page.emulate_media(color_scheme=theme)
            answer = page.evaluate(ON_TEXTS, [new, self._options])
            found += [(theme, one) for one in answer["violations"]]
            unsure.update(answer["unsure"])
        if new:
            page.emulate_media(color_scheme="light")
        for key in new:
            self._looks[key] = self._looks.get(key, 0) + 1 if key in unsure else LOOKS
        return found
