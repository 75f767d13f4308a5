"""A figure of a leather as it is typed: in percent or in millimetres, as its span says."""

from __future__ import annotations

from fitcounter.desk.assessment.limits import Span
from fitcounter.desk.common.translation import say, spoken
from fitcounter.errors import BadInput


def figure_text(value: float, span: Span) -> str:
    """A fraction as percent, or millimetres, as it would be typed. value: as it is stored."""
    return spoken().decimals(f"{value * 100:.6g}" if span.unit == "%" else f"{value:.6g}")


def read_figure(typed: str, span: Span, field: str) -> float:
    """What is stored of a typed figure with at most two decimals: a fraction, or millimetres.

    Raises BadInput.
    """
    text = typed.strip().removesuffix(span.unit).strip().replace(",", ".")
    whole, _, rest = text.partition(".")
    plain = (
        text.isascii()
        and whole.isdigit()
        and len(whole) < 4
        and len(rest) <= 2
        and (rest.isdigit() or not rest)
    )
    value = (float(text) / 100 if span.unit == "%" else float(text)) if plain else -1.0
    if not span.least <= value <= span.most:
        raise BadInput(
            say(
                "Type {unit} from {least} to {most}, like 4 or 2.5.",
                unit=say("percent") if span.unit == "%" else say("millimeters"),
                least=figure_text(span.least, span),
                most=figure_text(span.most, span),
            ),
            typed=typed,
            field=field,
        )
    return value
