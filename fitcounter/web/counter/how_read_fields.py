"""How a pair was read, as fields: what is picked, and what is ticked."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from wtforms import BooleanField

from fitcounter.desk.common.translation import say_later
from fitcounter.web.counter.measure_words import DATUMS, EASES, METHODS, PARTS, POSTURES, UNITS
from fitcounter.web.counter.new_job_form import WORN_WITH
from fitcounter.web.forms.fields import Picked, PickedInSight

# By name; each is bound to a form once it is shown or something is wrong with it.
HOW_READ: Mapping[str, Any] = {
    "unit": PickedInSight(say_later("Tape in"), UNITS),
    "over": Picked(say_later("Measured over"), WORN_WITH),
    "posture": PickedInSight(say_later("Posture"), POSTURES),
    "part_of_day": PickedInSight(say_later("Time of day"), PARTS),
    "marked": BooleanField(say_later("Heights were marked on the leg")),
    "on_block": BooleanField(say_later("Heel stood on a block as high as the boot’s heel")),
    "ease": Picked(say_later("Room wanted"), EASES),
    "method": PickedInSight(say_later("The boot was"), METHODS),
    "heights_from": Picked(say_later("Boot heights from"), DATUMS),
    "ends_left": BooleanField(say_later("The left boot ends below the highest height")),
    "ends_right": BooleanField(say_later("The right boot ends below the highest height")),
}
# Of each that is picked, value to our English for it.
WORDS: Mapping[str, Mapping[str, str]] = {
    name: field.args[1] for name, field in HOW_READ.items() if issubclass(field.field_class, Picked)
}
UNTICKED = ("", "false")  # what a field that is ticked may send beside its tick
