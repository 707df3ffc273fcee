"""What the shop calculations share: range checks that name value and range, and branches that work on arrays too.

numpy is imported only where an array is really met, so that a calculation with plain numbers starts without it.
"""

from __future__ import annotations

import math
from typing import Any

from generator.errors import GeneratorError

__all__ = ["RangeError", "larger", "need", "plain", "smaller", "where"]


class RangeError(GeneratorError, ValueError):
    """A value outside the range in which a formula holds; the message names both."""


def need(
    what: str,
    value: Any,
    unit: str = "",
    *,
    least: float | None = None,
    most: float | None = None,
    above: float | None = None,
    below: float | None = None,
) -> None:
    """Nothing, if the number or every number of the array lies in the range.

    Raises: RangeError naming the value and the range.
    """
    low, high = _extremes(value)
    fits = (
        math.isfinite(low) and math.isfinite(high)
        and (least is None or low >= least) and (most is None or high <= most)
        and (above is None or low > above) and (below is None or high < below)
    )
    if fits:
        return
    low_side = (least is not None and low < least) or (above is not None and low <= above)
    parts = [
        *([f"at least {least:g}"] if least is not None else []),
        *([f"more than {above:g}"] if above is not None else []),
        *([f"at most {most:g}"] if most is not None else []),
        *([f"less than {below:g}"] if below is not None else []),
    ]
    wanted = " and ".join(parts) or "a finite number"
    message = f"{what} is {low if low_side else high:.6g} {unit}".rstrip() + f"; it must be {wanted} {unit}".rstrip()
    raise RangeError(message)


def _extremes(value: Any) -> tuple[float, float]:
    if not hasattr(value, "min"):
        return float(value), float(value)
    return float(value.min()), float(value.max())


def plain(value: Any) -> Any:
    """The value, a single number as a plain float, an array as it is."""
    return value if getattr(value, "shape", ()) else float(value)


def where(condition: Any, then: Any, otherwise: Any) -> Any:
    """`then` where the condition holds, `otherwise` elsewhere, for a single condition or an array of them."""
    if getattr(condition, "shape", ()):
        import numpy as np

        return np.where(condition, then, otherwise)
    return then if condition else otherwise


def larger(first: Any, second: Any) -> Any:
    """The larger of two amounts, element by element where either is an array."""
    return where(first >= second, first, second)


def smaller(first: Any, second: Any) -> Any:
    """The smaller of two amounts, element by element where either is an array."""
    return where(first <= second, first, second)
