"""The order of work found from the description: what a part is, how it can be held, what must run true to what."""

from __future__ import annotations

from generator.making.route.heat import Hardening, hardening_of
from generator.making.route.ledger import Wishes
from generator.making.route.work_out import work_out

__all__ = ["Hardening", "Wishes", "hardening_of", "work_out"]
