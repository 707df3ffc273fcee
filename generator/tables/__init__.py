"""Published tables with typed access; every row names its source and how far it is to be trusted.

Nothing is read at import. Each accessor reads the one table it needs, once.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from generator.tables.browse import names, rows
    from generator.tables.fasteners import (
        CapScrew,
        Circlip,
        HexKey,
        Thread,
        Washer,
        cap_screw,
        cap_screw_lengths,
        circlip_inside,
        circlip_outside,
        hex_key,
        plain_washer,
        thread,
    )
    from generator.tables.fits import Limits, general_angle_tolerance, general_tolerance, it_grade, limits
    from generator.tables.loader import Row, Table, load
    from generator.tables.own import OwnRing, use_own_rings
    from generator.tables.ratings import LoadFactor, RingRating, load_factors, ring_rating
    from generator.tables.ring_tolerances import RingLimits, radial_clearance, ring_limits
    from generator.tables.rings import Ring, axial_play, ring, ring_of_size
    from generator.tables.shop import (
        CentreHole,
        MachineDefaults,
        Material,
        Usual,
        bars,
        centre_hole,
        centre_hole_for,
        machine_defaults,
        material,
        next_bar,
    )
    from generator.tables.tapers import ChuckTaper, MorseTaper, chuck_taper, morse

__all__ = [
    "CapScrew",
    "CentreHole",
    "ChuckTaper",
    "Circlip",
    "HexKey",
    "Limits",
    "LoadFactor",
    "MachineDefaults",
    "Material",
    "MorseTaper",
    "OwnRing",
    "Ring",
    "RingLimits",
    "RingRating",
    "Row",
    "Table",
    "Thread",
    "Usual",
    "Washer",
    "axial_play",
    "bars",
    "cap_screw",
    "cap_screw_lengths",
    "centre_hole",
    "centre_hole_for",
    "chuck_taper",
    "circlip_inside",
    "circlip_outside",
    "general_angle_tolerance",
    "general_tolerance",
    "hex_key",
    "it_grade",
    "limits",
    "load",
    "load_factors",
    "machine_defaults",
    "material",
    "morse",
    "names",
    "next_bar",
    "plain_washer",
    "radial_clearance",
    "ring",
    "ring_limits",
    "ring_of_size",
    "ring_rating",
    "rows",
    "thread",
    "use_own_rings",
]

_HOMES = {
    "browse": ("names", "rows"),
    "fasteners": (
        "CapScrew", "Circlip", "HexKey", "Thread", "Washer", "cap_screw", "cap_screw_lengths", "circlip_inside",
        "circlip_outside", "hex_key", "plain_washer", "thread",
    ),
    "fits": ("Limits", "general_angle_tolerance", "general_tolerance", "it_grade", "limits"),
    "loader": ("Row", "Table", "load"),
    "ratings": ("LoadFactor", "RingRating", "load_factors", "ring_rating"),
    "own": ("OwnRing", "use_own_rings"),
    "ring_tolerances": ("RingLimits", "radial_clearance", "ring_limits"),
    "rings": ("Ring", "axial_play", "ring", "ring_of_size"),
    "shop": (
        "CentreHole", "MachineDefaults", "Material", "Usual", "bars", "centre_hole", "centre_hole_for",
        "machine_defaults", "material", "next_bar",
    ),
    "tapers": ("ChuckTaper", "MorseTaper", "chuck_taper", "morse"),
}


def __getattr__(name: str) -> Any:
    """A name of this package, its module imported on first use so that importing the package stays cheap."""
    for module, held in _HOMES.items():
        if name in held:
            value = getattr(import_module(f"{__name__}.{module}"), name)
            globals()[name] = value
            return value
    message = f"module {__name__!r} has no attribute {name!r}"
    raise AttributeError(message)
