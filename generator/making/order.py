"""What an order of work leaves to be wished, for those who read it: its checks stand in `plan_checks`."""

from __future__ import annotations

from generator.making.plan_checks import compare
from generator.making.plan_checks.lengths import Transfer, transfers
from generator.making.plan_checks.surfaces import must_finish, twice_finished, unfinished, unknown_addresses
from generator.making.plan_checks.truth import Promise, promises

__all__ = [
    "Promise",
    "Transfer",
    "compare",
    "must_finish",
    "promises",
    "transfers",
    "twice_finished",
    "unfinished",
    "unknown_addresses",
]
