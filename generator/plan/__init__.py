"""The bench plan's content: which pages, in which order, saying what; all of it reckoned from one tool."""

from generator.plan.compose import PlanWords, compose_plan

__all__ = ["PlanWords", "compose_plan"]
