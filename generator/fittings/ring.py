"""Bearing rings as bought-in parts: an inner and an outer ring, joined by their axial play."""

from __future__ import annotations

from dataclasses import dataclass

from generator import tables
from generator.description import Choices, Part, PartDraft, Size, Term
from generator.fittings.shoulders import chamfer_top_mm, face_from_mm, shoulder_mm
from generator.fittings.sizes import derived

__all__ = ["RingPlan", "derive_ring", "play_term", "ring_parts"]


@dataclass(frozen=True, slots=True)
class RingPlan:
    """One bearing of the stack: the table row (or the sizes given outright), readings, and its order text."""

    ring: tables.Ring
    label: str
    measured_width_mm: float | None = None
    measured_bore_mm: float | None = None
    measured_outside_mm: float | None = None

    @property
    def width_mm(self) -> float:
        """Width by micrometer where there is a reading, else nominal."""
        return self.ring.width_mm if self.measured_width_mm is None else self.measured_width_mm

    @property
    def order_text(self) -> str:
        """What to ask for over the counter."""
        ring = self.ring
        return f"{self.label}, {ring.bore_mm:g} x {ring.outside_mm:g} x {ring.width_mm:g}"


def derive_ring(
    choices: Choices, index: int, plan: RingPlan, accuracy: str = "Normal", clearance: str | None = None
) -> None:
    """Keep the sizes of bearing `index` (1 is the front one): ISO 492 limits, or readings where there are any.

    `clearance` is the ISO 5753 group where the designation does not say it.
    """
    ring, name = plan.ring, f"ring_{index}"
    limit = tables.ring_limits(ring.bore_mm, ring.outside_mm, accuracy)
    group = clearance or ring.clearance_group

    def bought(nominal: float, lower: float, measured: float | None) -> Size:
        return Size(nominal, 0.0, lower, f"ISO 492 {accuracy}", f"stack bearing {index}", measured_mm=measured)

    def land(nominal: float, low: float, high: float) -> Size:
        source = f"ring land, {ring.land_confidence}"
        return Size(nominal, high - nominal, low - nominal, source, f"stack bearing {index}")

    width = bought(ring.width_mm, limit.width_lower_mm, plan.measured_width_mm)
    choices.size(f"{name}/bore", bought(ring.bore_mm, limit.bore_lower_mm, plan.measured_bore_mm))
    choices.size(f"{name}/outside", bought(ring.outside_mm, limit.outside_lower_mm, plan.measured_outside_mm))
    choices.size(f"{name}/inner_width", width)
    choices.size(f"{name}/outer_width", width)
    choices.size(f"{name}/inner_land", land(ring.inner_land_mm, ring.inner_land_min_mm, ring.inner_land_max_mm))
    choices.size(f"{name}/outer_land", land(ring.outer_land_mm, ring.outer_land_min_mm, ring.outer_land_max_mm))
    half_play = tables.axial_play(ring, tables.radial_clearance(ring.bore_mm, group)[1]) / 2
    play_source = f"axial play from the largest ISO 5753 {group} clearance"
    choices.size(f"{name}/play", Size(0.0, half_play, -half_play, play_source))
    choices.size(f"{name}/ball", derived(ring.ball_diameter_mm, "ring"))
    choices.facts[f"{name}/face_from"] = face_from_mm(ring)
    choices.facts[f"{name}/chamfer_top"] = chamfer_top_mm(ring)
    choices.facts[f"{name}/shoulder"] = shoulder_mm(ring)
    if ring.housing_shoulder_mm is not None:
        choices.facts[f"{name}/housing_shoulder"] = ring.housing_shoulder_mm
    choices.names[f"{name}/order"] = plan.order_text
    choices.names[f"{name}/label"] = plan.label


def play_term(choices: Choices, index: int) -> Term:
    """The axial play between inner and outer ring as a term of a sliding seat."""
    return Term(1.0, choices.sizes[f"ring_{index}/play"], f"ring_{index}/play")


def ring_parts(choices: Choices, index: int) -> tuple[Part, Part]:
    """Outer and inner ring of bearing `index`, faces "front" and "rear", lands as the surfaces that face each other."""
    name, size = f"ring_{index}", choices.sizes
    title = f"Bearing {choices.names[f'{name}/label']}"
    order = choices.names[f"{name}/order"]
    outer = PartDraft(f"{name}_outer", title, "front", bought=order, item=name)
    outer.length("width", "rear", "front", -1, size[f"{name}/outer_width"])
    outer.cylinder("outside", "outside", "rear", "front", size[f"{name}/outside"])
    outer.cylinder("land", "inside", "rear", "front", size[f"{name}/outer_land"])
    inner = PartDraft(f"{name}_inner", title, "front", bought=order, item=name)
    inner.length("width", "rear", "front", -1, size[f"{name}/inner_width"])
    inner.cylinder("land", "outside", "rear", "front", size[f"{name}/inner_land"])
    inner.cylinder("bore", "inside", "rear", "front", size[f"{name}/bore"])
    pitch = (size[f"{name}/bore"].nominal_mm + size[f"{name}/outside"].nominal_mm) / 2
    inner.ball("front", -size[f"{name}/inner_width"].nominal_mm / 2, pitch, size[f"{name}/ball"].nominal_mm)
    return outer.done(), inner.done()
