"""How a design is made in its shop: set-ups, blanks and operations, worked out together and once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.description import Tool
from generator.description.choices import Choices
from generator.findings import Finding
from generator.job.reader import Job
from generator.job.workshop import workshop_of
from generator.making.operations import Operation, operations_for
from generator.making.setups import SetUp
from generator.making.stock import StockRow, stock_for
from generator.making.workshop import Workshop

__all__ = ["Work", "blocked_findings", "order_of", "work_of"]


@dataclass(frozen=True, slots=True)
class Work:
    """The shop, the set-ups in order, the blank of each made part, and every operation with its settings."""

    workshop: Workshop
    setups: tuple[SetUp, ...]
    stock: tuple[StockRow, ...]
    operations: tuple[Operation, ...]


def order_of(job: Job, choices: Choices, tool: Tool) -> tuple[SetUp, ...]:
    """The set-ups for a tool in the job's own shop. Raises GeometryError where they cannot be worked out."""
    return tuple(job.kind.order(choices, tool, workshop_of(job)))


def work_of(job: Job, choices: Choices, tool: Tool, order: tuple[SetUp, ...] | None = None) -> Work:
    """The work for a tool, by this order where it is known. Raises GeometryError where it cannot be worked out."""
    workshop = workshop_of(job)
    setups = order_of(job, choices, tool) if order is None else order
    stock = stock_for(tool, setups, choices, job.unit, workshop.bars)
    return Work(workshop, setups, stock, operations_for(tool, setups, workshop, choices, stock, job.unit))


def blocked_findings(work: Work) -> Iterator[Finding]:
    """A warning for every operation whose tool meets support or work on its way."""
    for one in work.operations:
        if one.blocked:
            number = one.number.partition(".")[0]
            yield Finding(
                "order-blocked", "warn", f"set-up {number}/{one.step.surface or one.number}",
                f"set-up {number}, operation {one.number}: the tool does not get there", unit="",
                source="access tried with the tools and the post of the shop",
                advice=one.access.removeprefix("BLOCKED: "),
            )  # fmt: skip
