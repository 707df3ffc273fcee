"""The printed text of a size: pure words and figures, no drawing.

Figures are decimal, half rounds away from zero, never with fewer places than a limit needs. Source: ISO 129-1 (upper
over lower, equal places, a bare 0), at second hand; limits in brackets behind a tolerance class are shop practice.

Inches follow ASME Y14.5, at second hand: no zero before the mark, equal places in figure and deviations. A size that is
round in inches keeps its nominal and deviations; any other is given by its limits, larger over smaller, because only
limits can be converted without overstepping them.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

from generator.conversion import (
    EXACT_PLACES,
    clean_mm,
    converted,
    inch_at_most,
    inch_limits,
    inward,
    is_exact,
    step_places,
)
from generator.description import Size
from generator.drawing.label import Label, Redrawn
from generator.drawing.manner import METRIC, Manner
from generator.units import FileUnit

__all__ = [
    "DIAMETER", "Label", "Redrawn", "angle_label", "angle_text", "corner_label", "finish_label", "label_of",
    "limit_text", "taper_text", "thread_label", "words_label",
]

DIAMETER = "⌀"
_MINUS = "-"
# Sizes are described to a tenth of a micrometre at most; more places are float noise.
_PLACES = 4
_RADIUS = re.compile(r"(R )(\d+(?:\.\d+)?)( max)?")
# ISO 2768-1 gives no deviations under 0.5 mm: they stand at the size.
_LEAST_GENERAL_MM = 0.5
# An auxiliary size informs and binds nobody: two places.
_AUXILIARY_PLACES = 2
# A size under the general tolerance in inches; that tolerance is rounded to suit (see `titles`). Shop choice.
_GENERAL_INCH_PLACES = 3


@dataclass(frozen=True, slots=True)
class _Asked:
    """A size to be labelled, with the signs round it."""

    size: Size
    sign: str
    suffix: str
    manner: Manner

    @property
    def nominal(self) -> Decimal:
        return clean_mm(self.size.nominal_mm)

    @property
    def deviations(self) -> tuple[Decimal, Decimal]:
        return clean_mm(self.size.upper_mm), clean_mm(self.size.lower_mm)

    @property
    def is_bare(self) -> bool:
        """True where no deviation stands at the size."""
        bare = self.size.general and self.size.nominal_mm >= _LEAST_GENERAL_MM
        return bare or not any(self.deviations)

    @property
    def limits(self) -> tuple[Decimal, Decimal]:
        upper, lower = self.deviations
        return self.nominal + lower, self.nominal + upper


def label_of(
    size: Size,
    sign: str = "",
    *,
    suffix: str = "",
    bracketed: bool = False,
    places: int = _AUXILIARY_PLACES,
    manner: Manner = METRIC,
) -> Label:
    """The label of a size; `sign` stands before the figure (a diameter sign, "AF "), `suffix` behind everything.

    `places` are those of a bracketed size, counted in mm.

    >>> label_of(Size(35.0, 0.014, -0.011, tolerance_class="J7"), DIAMETER).plain
    '⌀35 J7 (+0.014/-0.011)'
    """
    asked = _Asked(size, sign, suffix, manner)
    if bracketed:
        return _auxiliary(asked, places)
    label = _inch_label(asked) if manner.unit == "in" else _mm_label(asked)
    said = manner.prose(manner.words.phrase(size.fitted))
    if said.startswith("= "):
        # The figure above is what is expected; an equals sign under it would make an equation of the two.
        said = manner.words.to_fit.format(how=said.removeprefix("= "))
    below = " ".join(word for word in (_other_unit(asked, label), said) if word)
    return replace(label, below=below) if below else label


def _plain(value: Decimal) -> str:
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _places(value: Decimal) -> int:
    _, _, after = _plain(value).partition(".")
    return len(after)


def _auxiliary(asked: _Asked, places: int) -> Label:
    """A size in round brackets that binds nobody, in the sheet's unit and within it the other one."""
    manner, value = asked.manner, asked.nominal
    if manner.unit == "in":
        value, places = converted(value, "in"), places + 1
    # Where that cuts the value exactly in half, a redrawing program may round the other way.
    places += is_exact(value, places + 1) and value.scaleb(places + 1) % 10 == 5
    figure = manner.written(value, places) if manner.unit == "mm" else manner.kept(value, places)
    other = ""
    if manner.other == "in":
        other = f" [{manner.kept(converted(value, 'in'), places + 1, 'in')}]"
    elif manner.other == "mm":
        other = f" [{manner.written(asked.nominal, places - 1, 'mm')}]"
    before, after = f"({asked.sign}", f"{other}){asked.suffix}"
    return Label(before + figure + after, redrawn=Redrawn(before, after, places, keeps_zeros=manner.unit == "in"))


def _mm_label(asked: _Asked) -> Label:
    size, manner = asked.size, asked.manner
    figure = manner.written(asked.nominal, _PLACES)
    start = asked.sign + figure
    if size.basic:
        return Label(start, tail=asked.suffix, boxed=True, redrawn=Redrawn(asked.sign, asked.suffix, _PLACES))
    if asked.is_bare:
        return Label(start + asked.suffix, redrawn=Redrawn(asked.sign, asked.suffix, _PLACES))
    upper, lower = asked.deviations
    places = max(_places(upper), _places(lower))
    is_even = upper == -lower
    redrawn = Redrawn(
        asked.sign,
        f" {size.tolerance_class}{asked.suffix}" if size.tolerance_class else asked.suffix,
        _PLACES,
        deviations=(upper, lower),
        deviation_places=places,
    )
    if size.tolerance_class:
        over, under = _deviation(upper, places, manner), _deviation(lower, places, manner)
        return Label(f"{start} {size.tolerance_class} (", over, under, f"){asked.suffix}", redrawn=redrawn)
    if is_even:
        return Label(f"{start} ±{manner.written(upper, places)}{asked.suffix}", redrawn=redrawn)
    over, under = _deviation(upper, places, manner), _deviation(lower, places, manner)
    return Label(start, over, under, asked.suffix, redrawn=redrawn)


def _deviation(value: Decimal, places: int, manner: Manner) -> str:
    """A signed deviation with so many places; zero is bare in mm and keeps sign and places in inches."""
    if not value and manner.unit == "mm":
        return "0"
    sign = _MINUS if value < 0 else "+"
    return sign + manner.kept(abs(value), places)


def _inch_label(asked: _Asked) -> Label:
    size, manner = asked.size, asked.manner
    nominal = converted(asked.nominal, "in")
    upper, lower = (converted(deviation, "in") for deviation in asked.deviations)
    round_ones = all(is_exact(value, EXACT_PLACES) for value in (nominal, upper, lower))
    if size.basic or asked.is_bare:
        places = _inch_places(nominal, EXACT_PLACES if size.basic else _GENERAL_INCH_PLACES)
        figure = asked.sign + manner.kept(nominal, places)
        redrawn = Redrawn(asked.sign, asked.suffix, places, keeps_zeros=True)
        if size.basic:
            return Label(figure, tail=asked.suffix, boxed=True, redrawn=redrawn)
        return Label(figure + asked.suffix, redrawn=redrawn)
    tail = (f" {size.tolerance_class}" if size.tolerance_class else "") + asked.suffix
    if not round_ones:
        low, high, places = inch_limits(*asked.limits)
        redrawn = Redrawn(asked.sign, tail, places, limits=(high, low), keeps_zeros=True)
        return Label(asked.sign, manner.kept(high, places), manner.kept(low, places), tail, redrawn=redrawn)
    places = max(_places(value) for value in (nominal, upper, lower))
    places = max(places, _GENERAL_INCH_PLACES)
    figure = asked.sign + manner.kept(nominal, places)
    redrawn = Redrawn(asked.sign, tail, places, deviations=(upper, lower), keeps_zeros=True)
    if upper == -lower:
        return Label(f"{figure} ±{manner.kept(upper, places)}{tail}", redrawn=redrawn)
    return Label(figure, _deviation(upper, places, manner), _deviation(lower, places, manner), tail, redrawn=redrawn)


def _inch_places(nominal: Decimal, usual: int) -> int:
    """Places of a size without deviations: at least three, all that a size round in inches needs."""
    return max(_places(nominal), _GENERAL_INCH_PLACES) if is_exact(nominal, EXACT_PLACES) else usual


def _bare_in(asked: _Asked, unit: FileUnit) -> str:
    """A size without limits in the other unit, in square brackets."""
    manner, value = asked.manner, asked.nominal
    if unit == "mm":
        return f"[{manner.written(value, _PLACES if asked.size.basic else _AUXILIARY_PLACES, 'mm')}]"
    value = converted(value, "in")
    places = _inch_places(value, EXACT_PLACES if asked.size.basic else _GENERAL_INCH_PLACES)
    return f"[{manner.kept(value, places, 'in')}]"


def _other_unit(asked: _Asked, label: Label) -> str:
    """The size in the other unit in square brackets, limits larger first; empty where the sheet has one unit."""
    unit = asked.manner.other
    if unit is None:
        return ""
    if asked.size.basic or asked.is_bare or label.redrawn is None:
        return _bare_in(asked, unit)
    if unit == "in":
        low, high, places = inch_limits(*asked.limits)
    else:
        # What governs are the inches as printed, so the millimetres are taken from those.
        low, high = _governing_inches(asked, label.redrawn)
        low, high, places = inward(converted(low, "mm"), converted(high, "mm"), step_places(high - low, "mm"))
    return f"[{asked.manner.kept(high, places, unit)}/{asked.manner.kept(low, places, unit)}]"


def _governing_inches(asked: _Asked, redrawn: Redrawn) -> tuple[Decimal, Decimal]:
    if redrawn.limits is not None:
        high, low = redrawn.limits
        return low, high
    low, high = (converted(limit, "in") for limit in asked.limits)
    return low, high


def words_label(words: str) -> Label:
    """A label of words alone: a treatment, a letter."""
    return Label(words)


def thread_label(words: str, manner: Manner = METRIC) -> Label:
    """A thread or another zone as it is named: the name is the same in every unit, the mark is the sheet's."""
    return Label(manner.marked(words))


def corner_label(words: str, manner: Manner = METRIC) -> Label:
    """The callout of an inner corner, "R 0.3 max": what is largest is rounded down in the other unit.

    >>> corner_label("R 0.3 max", Manner("mm [in]")).main
    'R 0.3 max [.011]'
    """
    found = _RADIUS.fullmatch(words)
    if found is None:
        return Label(manner.marked(words))
    radius = Decimal(found[2])
    inches = converted(radius, "in").quantize(Decimal("0.001"), rounding=ROUND_FLOOR)
    if manner.unit == "in":
        radius = converted(inches, "mm").quantize(Decimal("0.01"), rounding=ROUND_FLOOR)
    shown = {"mm": manner.written(radius, _PLACES, "mm"), "in": manner.kept(inches, 3, "in")}
    other = f" [{shown[manner.other]}]" if manner.other else ""
    return Label(f"{found[1]}{shown[manner.unit]}{found[3] or ''}{other}")


def finish_label(ra_um: float, manner: Manner = METRIC) -> Label:
    """The words of a surface finish: "Ra 0.8" in micrometres, "Ra 32" in microinches."""
    return Label(f"Ra {manner.roughness(ra_um)}")


def limit_text(limit_mm: float, manner: Manner = METRIC) -> str:
    """The value in a tolerance frame; in inches rounded down, so that it never allows more."""
    value = clean_mm(limit_mm)
    if manner.unit == "mm":
        return manner.written(value, _PLACES)
    inches = inch_at_most(value)
    return manner.kept(inches, _places_written(inches))


def _places_written(value: Decimal) -> int:
    """Places with which a value is written."""
    return len(f"{value:f}".partition(".")[2])


def angle_text(angle_deg: float, manner: Manner = METRIC) -> str:
    """An angle in degrees without trailing zeros: "60°".

    >>> angle_text(60.0)
    '60°'
    """
    return f"{manner.written(clean_mm(angle_deg), _PLACES, 'mm')}°"


def _sexagesimal(angle_deg: float) -> str:
    """Degrees, minutes and seconds, seconds to a whole figure."""
    seconds = int(Decimal(repr(angle_deg * 3600.0)).quantize(Decimal(1), rounding=ROUND_HALF_UP))
    degrees, rest = divmod(seconds, 3600)
    return f"{degrees}°{rest // 60:02d}'{rest % 60:02d}\""


def angle_label(angle_deg: float, manner: Manner = METRIC, *, bracketed: bool = False) -> Label:
    """The label of an included angle; a redrawing program writes the degree sign itself."""
    before, after = ("(", ")") if bracketed else ("", "")
    return Label(f"{before}{angle_text(angle_deg, manner)}{after}", redrawn=Redrawn(before, after, _PLACES))


def taper_text(half_angle_deg: float, name: str = "", manner: Manner = METRIC) -> str:
    """The taper callout behind its symbol: ratio, half angle in brackets, name of the taper.

    The ratio is the growth of the diameter over the length, 1:x. Source: ISO 3040, at second hand.
    """
    ratio = 1.0 / (2.0 * math.tan(math.radians(abs(half_angle_deg))))
    places = Decimal("0.001") if ratio < 100 else Decimal("0.1")
    shown = manner.marked(_plain(Decimal(repr(ratio)).quantize(places, rounding=ROUND_HALF_UP)))
    text = f"1:{shown} ({manner.words.half_angle} {_sexagesimal(abs(half_angle_deg))})"
    return f"{text} {name}".rstrip()
