"""The workshop of a job: what its shop file gives, the usual for the rest, and how the job wants its tapers cut."""

from __future__ import annotations

from generator.job.reader import Job
from generator.making.usual import usual_workshop
from generator.making.workshop import Workshop

__all__ = ["workshop_of"]


def workshop_of(job: Job) -> Workshop:
    """The workshop in which this job is made."""
    taper = getattr(getattr(job.params, "socket", None), "taper", "") or ""
    digits = "".join(character for character in str(taper) if character.isdigit())
    return usual_workshop(int(digits) if digits else 3)
