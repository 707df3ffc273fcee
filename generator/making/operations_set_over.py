"""How far the set-over screw is turned, said at the operation that sets the tailstock over and at the way back."""

from __future__ import annotations

from generator.description import Choices
from generator.making.figures import Figures
from generator.making.operations_target import Target
from generator.making.route.tapers import TAILSTOCK_BACK
from generator.making.settings_rows import cone_of
from generator.making.settings_set_over import screw_way, set_over_for
from generator.making.stock import StockRow
from generator.making.workshop import Workshop
from generator.reckoning.set_over import screw_words

__all__ = ["screw_of", "screw_rests_on"]

_FIELDS = ("set_over_lead_mm", "set_over_screws")


def screw_of(
    target: Target, workshop: Workshop, choices: Choices | None, blank: StockRow | None, figures: Figures
) -> tuple[str, ...]:
    """The set-over with the turns of its screw, and how the screws are worked; nothing for other operations.

    Source: `settings_set_over.set_over_for`; common practice, no source.
    """
    back = target.step.text == TAILSTOCK_BACK
    if workshop.taper_method != "set-over" or not (back or target.step.work == "taper"):
        return ()
    over_mm = _over_mm(target, workshop, choices, blank, figures)
    if over_mm is None:
        return ()
    turns = screw_words(over_mm, workshop.set_over_lead_mm)
    away = "back away from you" if back else "towards you"
    read = "until the indicator on the quill reads 0" if back else "read it on the quill"
    way = screw_way(workshop.set_over_screws, back=back)
    return (f"tailstock {figures.fixed(over_mm)} {away}, {turns} of its screw; {read}", way)


def screw_rests_on(workshop: Workshop) -> tuple[str, ...]:
    """Fields of the shop that nobody gave and that the turns rest on.

    Source: the shop file.
    """
    return tuple(name for name in _FIELDS if workshop.is_default(name))


def _over_mm(
    target: Target, workshop: Workshop, choices: Choices | None, blank: StockRow | None, figures: Figures
) -> float | None:
    """The set-over of the outside taper of this part as it is held here; None where it is not known."""
    part = target.part
    taper = None if part is None else next((one for one in part.surfaces if one.role == "taper"), None)
    if part is None or taper is None or taper.side != "outside":
        return None
    found = set_over_for(cone_of(part, taper, choices or Choices(), blank, workshop, figures))
    return None if found is None else found.amount_mm
