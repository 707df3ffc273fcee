"""What a STEP file holds, in a form that passes from process to process without the kernel."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["Written"]


@dataclass(frozen=True, slots=True)
class Written:
    """One STEP file: volume of all its solids in mm3, volume of each part by name, count of faces.

    Volumes are those of the solids with cross features taken off, at nominal size, balls of rings left out.
    """

    volume_mm3: float
    volume_of_mm3: Mapping[str, float]
    faces: int
