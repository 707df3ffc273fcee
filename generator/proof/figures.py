"""Printed figures against what their dimensions measure: nominal, limits, tolerance class, form of the numbers."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from decimal import Decimal

from generator import tables
from generator.errors import TableError
from generator.proof.label import Printed, places_of, read_label, value_of
from generator.proof.rules import Fault, fault
from generator.proof.sheet import Sheet
from generator.proof.sizes import Dimension

__all__ = ["figure_faults"]

_EXACT_MM = 6e-5
_LEAST_GENERAL_MM = 0.5
_MM_PER_INCH = 25.4


def figure_faults(sheet: Sheet, dimensions: Sequence[Dimension]) -> Iterator[Fault]:
    """Printed figures, limits and classes that disagree with geometry, table or form."""
    for one in dimensions:
        at = sheet.on_paper(one.text_at)
        for code, what in (*_figure(sheet, one), *_picture(one), *_limits(sheet, one), *_bare(sheet, one)):
            yield fault(code, what, at, one.handle, one.entity.dxf.layer)
    signs = {sign for d in dimensions for sign in ".," if sign in _digits(d.label)}
    if len(signs) > 1:
        yield fault("two-decimal-signs", "figures with a point and with a comma stand on one sheet")


def _digits(label: Printed) -> str:
    return f"{label.figure or ''} {label.upper} {label.lower}"


def _name(one: Dimension) -> str:
    shown = one.label.text.replace("{", "").replace("}", "").replace("|", "/") or "no figure"
    return f"{shown!r}" + (f" [{one.address}]" if one.address else "")


def _unit_factor(sheet: Sheet, one: Dimension) -> float:
    """Printed over measured: one, unless the block or the dimension's style says inch."""
    if one.is_angle or one.label.is_thread:
        # Angles know no factor, and a thread is called by its own name in every unit.
        return 1.0
    if one.unit_factor != 1.0:
        return one.unit_factor
    return 1.0 / _MM_PER_INCH if sheet.is_inch else 1.0


def _figure(sheet: Sheet, one: Dimension) -> Iterator[tuple[str, str]]:
    label, measured = one.label, one.true
    if label.is_limits:
        yield from _limits_of_size(sheet, one)
        return
    if label.value is None:
        yield "size-unreadable", f"the dimension prints {_name(one)}"
        return
    if measured is None:
        yield "figure-wrong", f"{_name(one)} measures nothing: its points do not make a dimension"
        return
    factor = _unit_factor(sheet, one)
    true = measured * factor
    converted = abs(factor - 1.0) > 1e-12
    allowed = 0.5001 * label.step if label.is_auxiliary or converted or "'" in (label.figure or "") else _EXACT_MM
    if "'" in (label.figure or ""):
        allowed = 0.5001 / 3600
    if abs(label.value - true) > allowed + 1e-9:
        yield "figure-wrong", f"{_name(one)} prints {label.figure}, but measures {true:.6g}"
    yield from _dual(one, measured, factor)
    yield from _zero(sheet, one, label.figure or "")


def _zero(sheet: Sheet, one: Dimension, figure: str) -> Iterator[tuple[str, str]]:
    """The zero before the decimal sign: mm have it, inches have not."""
    if sheet.is_inch and re.match(r"0[.,]\d", figure) and not one.is_angle:
        yield "inch-figure", f"{_name(one)}: an inch figure begins with 0"
    if not sheet.is_inch and re.match(r"[.,]", figure):
        yield "inch-figure", f"{_name(one)}: a figure in mm begins with the decimal sign"


def _limits_of_size(sheet: Sheet, one: Dimension) -> Iterator[tuple[str, str]]:
    """High and low limit in place of a nominal: against what the entity keeps, the larger one on top, equal places."""
    label, measured, kept = one.label, one.true, one.recorded_limits
    if measured is None or one.is_angle:
        yield "figure-wrong", f"{_name(one)} measures no length"
        return
    factor = _unit_factor(sheet, one)
    high, low = value_of(label.upper), value_of(label.lower)
    if high <= low or places_of(label.upper) != places_of(label.lower):
        yield "limits-wrong", f"{_name(one)}: the larger limit stands on top, with as many decimals as the other"
    if kept is None:
        yield "redrawn-differs", f"{_name(one)} prints limits that the entity does not keep"
        return
    for printed, over in ((high, kept[0]), (low, kept[1])):
        if abs(printed - measured * factor - over) > 2e-6:
            yield "redrawn-differs", f"{_name(one)} prints {printed:g}, the entity keeps {measured * factor + over:.6g}"
    for figure in (label.upper, label.lower):
        yield from _zero(sheet, one, figure)
    if label.tolerance_class:
        yield from _class_agrees(one, factor, high - measured * factor, low - measured * factor)
    yield from _dual(one, measured, factor)


def _dual(one: Dimension, measured: float, factor: float) -> Iterator[tuple[str, str]]:
    """The size in the second unit, in square brackets in the label or under its line; limits lie within the first."""
    below = re.search(r"\[([^\]]*)\]", one.words)
    told = one.label.second or (below[1] if below else "")
    if not told or one.is_angle:
        return
    in_inches = factor == 1.0
    if "/" in told:
        yield from _dual_limits(one, measured * factor, told, 1.0 / _MM_PER_INCH if in_inches else _MM_PER_INCH)
        return
    other = read_label(told)
    second = measured / _MM_PER_INCH if in_inches else measured
    if other.value is None:
        yield "size-unreadable", f"{_name(one)}: no figure in [{told}]"
    elif abs(other.value - second) > 0.5001 * other.step + 1e-9:
        yield "figure-wrong", f"{_name(one)}: [{told}] should be {second:.6g}"


def _dual_limits(one: Dimension, true: float, told: str, by: float) -> Iterator[tuple[str, str]]:
    """Limits in the second unit: not beyond those that govern, and short of them by a step at most."""
    label = one.label
    try:
        high, low = (value_of(figure) for figure in told.split("/"))
        upper, lower = value_of(label.upper), value_of(label.lower)
    except (ArithmeticError, ValueError):
        yield "size-unreadable", f"{_name(one)}: no limits in [{told}]"
        return
    nominal = 0.0 if label.is_limits else true
    step = 10.0 ** -places_of(told.split("/")[0])
    most, least = (nominal + upper) * by, (nominal + lower) * by
    if not (most - step - 1e-9 <= high <= most + 1e-9 and least - 1e-9 <= low <= least + step + 1e-9):
        yield "figure-wrong", f"{_name(one)}: [{told}] does not keep within {most:.6g}/{least:.6g}"


def _picture(one: Dimension) -> Iterator[tuple[str, str]]:
    """Arrows of a dimension line stand where it measures; the text kept for a redraw prints the same figure."""
    line = one.line()
    if one.is_linear and line is not None and len(one.heads) == 2 and one.true is not None:
        turn = math.radians(one.turn_deg)
        along = sorted(x * math.cos(turn) + y * math.sin(turn) for x, y in one.heads)
        ends = sorted(x * math.cos(turn) + y * math.sin(turn) for x, y in one.ends)
        if any(abs(a - b) > 1e-4 for a, b in zip(along, ends, strict=True)):
            yield "picture-wrong", f"{_name(one)}: arrows stand {along[1] - along[0]:.6g} apart"
    text = str(one.entity.dxf.get("text", ""))
    if text.strip() and "<>" not in text and one.label.value is not None:
        kept = read_label(text).value
        if kept is None or abs(kept - one.label.value) > 1e-9:
            yield "redrawn-differs", f"{_name(one)}: the entity keeps the text {text!r}"


def _limits(sheet: Sheet, one: Dimension) -> Iterator[tuple[str, str]]:
    label = one.label
    recorded = one.recorded
    if label.is_limits:
        return
    if not label.has_limits:
        if recorded is not None and any(recorded):
            yield "redrawn-differs", f"{_name(one)} prints no limits, the entity keeps {recorded[0]:g}/{recorded[1]:g}"
        if label.tolerance_class and not (one.is_boxed or label.is_auxiliary):
            yield from _class_known(one)
        return
    if one.is_boxed or label.is_auxiliary:
        yield "limits-wrong", f"{_name(one)}: an exact or auxiliary size carries limits"
    try:
        upper, lower = value_of(label.upper), value_of(label.lower)
    except ArithmeticError:
        yield "limits-wrong", f"{_name(one)}: the limits {label.upper}/{label.lower} cannot be read"
        return
    if upper <= lower:
        yield "limits-wrong", f"{_name(one)}: upper {label.upper} is not over lower {label.lower}"
    yield from _form(sheet, one, upper, lower)
    factor = _unit_factor(sheet, one)
    if recorded is None:
        yield "redrawn-differs", f"{_name(one)} prints limits that the entity does not keep"
    else:
        for printed, kept, figure in ((upper, recorded[0], label.upper), (lower, recorded[1], label.lower)):
            # A style's factor turns what is measured into what is printed; deviations are kept as they are printed.
            if abs(printed - kept) > 2e-6:
                yield "redrawn-differs", f"{_name(one)} prints {figure}, the entity keeps {kept:.6g}"
    if label.tolerance_class:
        yield from _class_agrees(one, factor, upper, lower)


def _form(sheet: Sheet, one: Dimension, upper: float, lower: float) -> Iterator[tuple[str, str]]:
    """Decimals and zeros of two deviations."""
    label = one.label
    pair = ((label.upper, upper), (label.lower, lower))
    if not sheet.is_inch:
        for figure, value in pair:
            if value == 0 and figure != "0":
                yield "limits-wrong", f"{_name(one)}: a deviation of nothing is a bare 0, not {figure}"
    places = {places_of(figure) for figure, value in pair if value != 0 or sheet.is_inch}
    if len(places) > 1:
        yield "limits-wrong", f"{_name(one)}: {label.upper} and {label.lower} have unequal decimals"
    for figure, value in pair:
        if value != 0 and figure[0] not in "+-−":
            yield "limits-wrong", f"{_name(one)}: the deviation {figure} has no sign"


def _class_known(one: Dimension) -> Iterator[tuple[str, str]]:
    try:
        tables.limits(one.label.tolerance_class, one.label.value or 0.0)
    except TableError as problem:
        yield "class-unknown", f"{_name(one)}: {problem}"


def _class_agrees(one: Dimension, factor: float, upper: float, lower: float) -> Iterator[tuple[str, str]]:
    name = one.label.tolerance_class
    try:
        wanted = tables.limits(name, one.true or 0.0)
    except TableError as problem:
        yield "class-unknown", f"{_name(one)}: {problem}"
        return
    allowed = 0.5e-3 / 2 if factor == 1.0 else 10.0 ** -max(places_of(one.label.upper), places_of(one.label.lower))
    pair = (wanted.upper_mm * factor, wanted.lower_mm * factor)
    if abs(upper - pair[0]) > allowed or abs(lower - pair[1]) > allowed:
        shown = "/".join(f"{Decimal(repr(round(value, 5))):+g}" if value else "0" for value in pair)
        yield "class-and-limits", f"{_name(one)}: {name} is {shown}"


def _bare(sheet: Sheet, one: Dimension) -> Iterator[tuple[str, str]]:
    """A size under half a millimetre without its own deviations."""
    label = one.label
    free = one.is_boxed or label.is_auxiliary or label.has_limits or label.tolerance_class or label.is_thread
    if one.is_angle or free or one.true is None or re.search(r"\b(max|min)\b", label.text):
        return
    if one.true < _LEAST_GENERAL_MM - 1e-9:
        yield "small-size-bare", f"{_name(one)} is under 0.5 mm and carries no deviations"
