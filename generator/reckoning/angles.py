"""Trigonometry in degrees and logarithms for single numbers and arrays alike; numpy only where an array comes in."""

from __future__ import annotations

import math
from typing import Any

__all__ = ["arctangent_deg", "cosine", "logarithm", "sine", "tangent"]


def _is_array(value: Any) -> bool:
    return bool(getattr(value, "shape", ()))


def sine(angle_deg: float) -> float:
    """Sine of an angle. Source: definition."""
    if not _is_array(angle_deg):
        return math.sin(math.radians(angle_deg))
    import numpy as np

    found: float = np.sin(np.radians(angle_deg))
    return found


def cosine(angle_deg: float) -> float:
    """Cosine of an angle. Source: definition."""
    if not _is_array(angle_deg):
        return math.cos(math.radians(angle_deg))
    import numpy as np

    found: float = np.cos(np.radians(angle_deg))
    return found


def tangent(angle_deg: float) -> float:
    """Tangent of an angle. Source: definition."""
    if not _is_array(angle_deg):
        return math.tan(math.radians(angle_deg))
    import numpy as np

    found: float = np.tan(np.radians(angle_deg))
    return found


def arctangent_deg(ratio: float) -> float:
    """Angle between -90 and 90 degrees whose tangent is the ratio. Source: definition."""
    if not _is_array(ratio):
        return math.degrees(math.atan(ratio))
    import numpy as np

    found: float = np.degrees(np.arctan(ratio))
    return found


def logarithm(value: float) -> float:
    """Natural logarithm of a number above 0. Source: definition."""
    if not _is_array(value):
        return math.log(value)
    import numpy as np

    found: float = np.log(value)
    return found
