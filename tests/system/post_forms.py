"""The forms that stand on a page and are sent by POST, with what is in their fields."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

TYPED_KINDS = (
    "text",
    "tel",
    "date",
    "datetime-local",
    "email",
    "number",
    "search",
    "time",
    "textarea",
)


@dataclass
class Form:
    """A form of a page. fields: name and value, in order; typed: the names that a hand fills in."""

    action: str
    fields: list[tuple[str, str]] = field(default_factory=list)
    typed: set[str] = field(default_factory=set)


class Forms(HTMLParser):
    """Collects the forms of a page that are sent by POST."""

    def __init__(self, where: str) -> None:
        super().__init__()
        self.where, self.found, self.open = where, list[Form](), False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        one = dict(attrs)
        if tag == "form":
            self.open = (one.get("method") or "").lower() == "post"
            if self.open:
                self.found.append(Form(one.get("action") or self.where))
        elif self.open and tag in ("input", "select", "textarea", "button") and one.get("name"):
            name, kind = str(one["name"]), (one.get("type") or "text") if tag == "input" else tag
            if kind in TYPED_KINDS:
                self.found[-1].typed.add(name)
            if kind not in ("radio", "checkbox", "file", "button") or "checked" in one:
                self.found[-1].fields.append((name, one.get("value") or ""))

    def handle_endtag(self, tag: str) -> None:
        self.open = self.open and tag != "form"
