"""How the user wants the tool made: in a job for that job, in the shop file as the habit of the shop."""

from __future__ import annotations

from pydantic import Field

from generator.making.workshop import Support, TaperMethod
from generator.parameters.fields import JobModel

__all__ = ["Making"]


class Making(JobModel):
    """How it is made. What is left out follows from the shop."""

    taper_method: TaperMethod | None = Field(
        None, description='how the taper is cut: "top slide", "set-over", "attachment" or "bought shank"'
    )
    headstock_support: Support | None = Field(
        None, description='what stands in the headstock between centres: "ball" or "60-degree"'
    )
    tailstock_support: Support | None = Field(
        None, description='what stands in the tailstock between centres: "ball" or "60-degree"'
    )
