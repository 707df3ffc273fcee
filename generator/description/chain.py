"""Chains of sizes: sums of coefficient x size along the one path between two faces of a tool.

Works on arrays of designs as on single ones: only sums, products and elementwise extremes are used.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.description.memo import once
from generator.description.part import face_forms
from generator.description.size import MEASURING_DOUBT_MM, Size, Term
from generator.description.tool import Gap, Tool
from generator.errors import GeometryError

__all__ = ["ChainResult", "Form", "evaluate_gap", "nominal_positions", "positions"]


@dataclass(frozen=True, slots=True)
class Form:
    """A linear form: terms by address, equal addresses added up."""

    terms: Mapping[str, Term]

    @staticmethod
    def of(terms: Iterable[Term]) -> Form:
        """The form of these terms."""
        found: dict[str, Term] = {}
        for term in terms:
            known = found.get(term.address)
            total = term.coefficient + (known.coefficient if known else 0.0)
            found[term.address] = Term(total, term.size, term.address)
        return Form(found)

    def plus(self, terms: Iterable[Term], sign: float = 1.0) -> Form:
        """The form with more terms added (or, with sign -1, taken off)."""
        more = (Term(sign * t.coefficient, t.size, t.address) for t in terms)
        return Form.of([*self.terms.values(), *more])

    def kept(self) -> tuple[Term, ...]:
        """Terms whose coefficient did not cancel."""
        return tuple(term for term in self.terms.values() if abs(term.coefficient) > 1e-12)

    @property
    def half_range(self) -> float:
        """Half of how far the value may range at worst."""
        return sum((abs(t.coefficient) * (t.size.high - t.size.low) / 2 for t in self.kept()), start=0.0)

    @property
    def nominal(self) -> float:
        """Value with every size at its nominal, or at its reading where measured."""
        return sum((t.coefficient * t.size.best for t in self.kept()), start=0.0)


@dataclass(frozen=True, slots=True)
class ChainResult:
    """A gap worked out: nominal, worst case, likely range (root of the sum of squares), contributors largest first.

    Where a size is made to measure, `fit_low_mm` and `fit_high_mm` are the range it may come out at, and worst case
    and likely range are what is left after fitting: the size's own cutting tolerance and the measuring doubt.
    """

    gap: Gap
    nominal_mm: float
    low_mm: float
    high_mm: float
    likely_low_mm: float
    likely_high_mm: float
    contributors: tuple[Term, ...]
    fit_low_mm: float | None = None
    fit_high_mm: float | None = None


@once
def positions(tool: Tool) -> Mapping[str, Form]:
    """Position of every face of every part, by address "part/face", from the root part's origin face."""
    forms: dict[str, Form] = {}
    local = {name: face_forms(part) for name, part in tool.parts.items()}
    zero: dict[str, Form] = {tool.root: Form({})}
    waiting = [name for name in tool.parts if name != tool.root]
    _spread(tool, tool.root, zero, local, forms)
    while waiting:
        ready = [name for name in waiting if tool.seat_of[name].on_part in zero]
        if not ready:
            message = f"the seats of {', '.join(waiting)} lead round in a circle"
            raise GeometryError(message)
        for name in ready:
            seat = tool.seat_of[name]
            sign = -1.0 if name in tool.flipped else 1.0
            if f"{seat.on_part}/{seat.on_face}" not in forms or seat.face not in local[name]:
                message = f"{name}/{seat.face} seats on {seat.on_part}/{seat.on_face}: one of them is no face"
                raise GeometryError(message)
            at = forms[f"{seat.on_part}/{seat.on_face}"].plus(seat.terms)
            zero[name] = at.plus(local[name][seat.face], -sign)
            _spread(tool, name, zero, local, forms)
        waiting = [name for name in waiting if name not in zero]
    return forms


def _spread(
    tool: Tool,
    name: str,
    zero: Mapping[str, Form],
    local: Mapping[str, Mapping[str, tuple[Term, ...]]],
    forms: dict[str, Form],
) -> None:
    """Write the positions of all faces of one placed part."""
    sign = -1.0 if name in tool.flipped else 1.0
    for face, terms in local[name].items():
        forms[f"{name}/{face}"] = zero[name].plus(terms, sign)


@once
def nominal_positions(tool: Tool) -> Mapping[str, float]:
    """Nominal z of every face in mm in the tool's frame: 0 at the root's origin face, positive towards the work."""
    return {address: form.nominal for address, form in positions(tool).items()}


def _gap_form(tool: Tool, gap: Gap, forms: Mapping[str, Form]) -> Form:
    if gap.direction == "axial":
        try:
            return forms[gap.end].plus(forms[gap.start].kept(), -1.0)
        except KeyError as missing:
            message = f"gap {gap.name}: no face {missing}"
            raise GeometryError(message) from None
    return Form.of([_half_diameter(tool, gap.end, 0.5), _half_diameter(tool, gap.start, -0.5)])


def _half_diameter(tool: Tool, address: str, coefficient: float) -> Term:
    """The diameter of a surface, or the size across a pair of flats, as a term."""
    name, _, feature = address.partition("/")
    part = tool.parts.get(name)
    if part is None:
        message = f"{address}: {name} is no part of the tool"
        raise GeometryError(message)
    for cross in part.cross:
        if cross.name == feature and "across" in cross.sizes:
            return Term(coefficient, cross.sizes["across"], f"{address}/across")
    return Term(coefficient, part.surface(feature).diameter, f"{address}/diameter")


def evaluate_gap(tool: Tool, gap: Gap, forms: Mapping[str, Form]) -> ChainResult:
    """The gap at nominal, worst case and likely, and the size to fit where one is made to measure."""
    form = _gap_form(tool, gap, forms)
    if gap.fit:
        return _made_to_measure(gap, form)
    middle, worst, likely = _spread_of(form.kept())
    return ChainResult(
        gap, form.nominal, middle - worst, middle + worst, middle - likely, middle + likely, _by_size(form.kept())
    )


def _spread_of(terms: Iterable[Term]) -> tuple[float, float, float]:
    """Middle, worst half range and likely half range of a sum of terms."""
    middle = worst = squares = 0.0
    for term in terms:
        half = abs(term.coefficient) * (term.size.high - term.size.low) / 2
        middle = middle + term.coefficient * term.size.middle
        worst = worst + half
        squares = squares + half * half
    return middle, worst, squares**0.5


def _by_size(terms: Iterable[Term]) -> tuple[Term, ...]:
    """Contributors, largest share of the worst case first (by the first design where sizes are arrays)."""

    def share(term: Term) -> float:
        half = abs(term.coefficient) * (term.size.high - term.size.low)
        first = getattr(half, "flat", None)
        return float(half if first is None else first[0])

    return tuple(sorted(terms, key=share, reverse=True))


def _made_to_measure(gap: Gap, form: Form) -> ChainResult:
    """Solve the gap for the size left to the fitter, aiming at the middle of what is wanted."""
    terms = form.kept()
    fitted = next((term for term in terms if term.address == gap.fit), None)
    if fitted is None or gap.least_mm is None or gap.most_mm is None:
        message = f"gap {gap.name}: {gap.fit} cannot be made to measure, it is not in the chain or a limit is missing"
        raise GeometryError(message)
    others = tuple(term for term in terms if term is not fitted)
    target = (gap.least_mm + gap.most_mm) / 2
    middle, worst, _ = _spread_of(others)
    wanted = (target - middle) / fitted.coefficient
    range_half = worst / abs(fitted.coefficient)
    cut = _cutting_half(fitted.size)
    measured = [t for t in others if not (t.size.basic or t.size.derived)]
    doubt = MEASURING_DOUBT_MM * len(measured) ** 0.5
    left = abs(fitted.coefficient) * cut + doubt
    likely = ((abs(fitted.coefficient) * cut) ** 2 + doubt**2) ** 0.5
    return ChainResult(
        gap,
        form.nominal,
        target - left,
        target + left,
        target - likely,
        target + likely,
        _by_size(terms),
        wanted - range_half,
        wanted + range_half,
    )


def _cutting_half(size: Size) -> float:
    """Half the tolerance with which the fitted size itself can be cut."""
    return (size.upper_mm - size.lower_mm) / 2
