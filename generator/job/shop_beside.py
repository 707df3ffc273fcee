"""The table of a shop file for what stands beside the lathe, milling, grinding, furnace; and its leadscrew's sense."""

from __future__ import annotations

from pydantic import Field

from generator.job.shop_kinds import FurnaceHeat, FurnaceLength, refuse
from generator.making.workshop import LeadScrew, Milling, Wheel
from generator.parameters.fields import JobModel
from generator.units import INCH_MM

__all__ = ["Beside", "leadscrew_whole"]


class Beside(JobModel):
    """What stands beside the lathe, or on it, for flats and for hard points."""

    milling: Milling | None = Field(
        None, description='what mills flats: "machine", "slide" (vertical slide on the lathe) or "none": they are filed'
    )
    grinding: Wheel | None = Field(
        None, description='what grinds a hardened point: "tool post" (a wheel on the tool post) or "none"'
    )
    furnace: FurnaceHeat | None = Field(
        None, description='greatest temperature of the furnace or oven, degrees Celsius; "none" without one'
    )
    furnace_length: FurnaceLength | None = Field(None, description="longest piece that goes into the furnace")


def leadscrew_whole(kind: LeadScrew | None, pitch_mm: float | None) -> None:
    """Nothing where system and pitch of a leadscrew agree; else ValueError.

    An inch screw has a whole or half number of threads to the inch, a metric one a pitch in twentieths of a
    millimetre. Source: common practice, no source.
    """
    if pitch_mm is None:
        return
    if kind is None:
        rule = "the pitch of a leadscrew is known only with its system; leadscrew is missing"
        refuse(rule, "", 'give leadscrew = "metric" or "inch"')
    wanted = 2 * float(INCH_MM) / pitch_mm if kind == "inch" else pitch_mm / 0.05
    if abs(wanted - round(wanted)) > 0.005:
        sense = "a whole or half number of threads to the inch" if kind == "inch" else "a pitch in whole 0.05 mm"
        shown = f"{float(INCH_MM) / pitch_mm:.4g} threads to the inch" if kind == "inch" else f"{pitch_mm:g} mm"
        refuse(f"a leadscrew that is {kind} has {sense}", shown, "count ten threads along a rule, and check the system")
