"""The verdict: every gap of the tool, the walls, the bar, and what is peculiar to its kind, as findings.

`check` yields them all; `advise` adds the changes that would clear each one, found by solving. Imports description,
reckoning and making; nothing that draws.
"""

from generator.checks.advice import advise
from generator.checks.gaps import chains, gap_findings
from generator.checks.verdict import check

__all__ = ["advise", "chains", "check", "gap_findings"]
