"""What is filed because nothing mills in this shop: is a file good enough for it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.findings import Finding
from generator.making.plan_checks.plan import Plan, found
from generator.making.plan_checks.surfaces import words

__all__ = ["about_flats"]

FILE_MM = 0.1
"""Band that a flat filed on a rest keeps with care. From memory; common practice, no source."""


def about_flats(plan: Plan) -> Iterator[Finding]:
    """A warning for each filed flat whose size is finer than a file keeps, a note for the others.

    Source: what a file keeps is common practice, no source.
    """
    if plan.workshop.milling != "none":
        return
    for cut in plan.steps:
        if cut.step.work != "file":
            continue
        for address in cut.features:
            name, _, rest = address.partition("/")
            cross = next((one for one in plan.tool.parts[name].cross if one.name == rest), None)
            if cross is None or cut.step.allowance_mm > 0:
                continue
            spans = [size.upper_mm - size.lower_mm for size in cross.sizes.values() if not size.derived]
            band = min((span for span in spans if span > 0), default=FILE_MM)
            fine = band < FILE_MM - 1e-9
            yield found(
                "order-filed", "warn" if fine else "note", cut.setup, address,
                f"nothing mills in this shop: {words(address)} to be filed by hand",
                "a file does not keep that: send it out to be milled, or borrow a vertical slide" if fine
                else "measure across in three places; send it out to be milled where it must look well",
                value=band, least=FILE_MM, source=f"{plan.workshop.sources.get('milling', 'the shop file')}; a file "
                "keeps 0.1 mm with care, common practice, no source",
            )  # fmt: skip
