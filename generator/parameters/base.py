"""What every job file has in common, whatever its kind."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from generator.parameters.fields import JobModel, JobSheet, Word
from generator.parameters.making import Making

__all__ = ["JobBase", "ToolName"]

ToolName = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]{0,39}$")]


class JobBase(JobModel):
    """Base of every kind's parameters: which kind, its name, the unit of bare numbers, how it is made, words."""

    kind: str = Field(description="kind of tool")
    name: ToolName = Field(description="name of the tool, used in file names: letters, digits, - and _, at most 40")
    units: Literal["mm", "in"] = Field(default="mm", description='unit of bare numbers, "mm" or "in"')
    title: Word | None = Field(default=None, description="title on the sheet")
    making: Making = Field(default_factory=lambda: Making(), description="how it is made")
    sheet: JobSheet = Field(default_factory=lambda: JobSheet(), description="words in the title block, choices")
