"""Findings peculiar to a revolving centre: access, lever, point and centre hole, collar, head, assembly."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.contacts import contact_findings
from generator.description import Choices, Tool, nominal_positions, outline
from generator.description.size import MEASURING_DOUBT_MM
from generator.findings import Finding
from generator.fittings.access import holder_corners, insert_corners, least_gap, passing_of
from generator.making.route.heat import hardness_finding
from templates._points import mouth_finding, tip_finding
from templates._revolving_mechanics import mechanics
from templates._revolving_pockets import LEVER_WANTED
from templates._revolving_walls import body_walls

WRONG_RING_MM = 0.2
"""A reading further than this outside the limits is of another bearing. Shop choice."""


def inspect(choices: Choices, tool: Tool) -> Iterator[Finding]:
    """All of them, in the order a machinist would ask."""
    yield from access_finding(choices, tool)
    yield from _lever(choices)
    yield from _point(choices)
    yield from contact_findings(choices)
    yield from _nose(choices)
    yield from body_walls(choices)
    yield from _retention(choices)
    yield from _rings(choices)
    yield from hardness_finding(choices.names["spindle/material"], "spindle/point")
    yield from mechanics(choices, tool)


def access_finding(choices: Choices, tool: Tool) -> Iterator[Finding]:
    """The least gap between holder, insert and everything on the tailstock side, with the tip at the end of its cut."""
    passing = passing_of(choices)
    if passing is None:
        yield Finding(
            "access",
            "note",
            "tool",
            "tool access",
            unit="",
            source="this program",
            advice="Not checked: the job names no tool that must pass. Add a [passes] table.",
        )
        return
    at = nominal_positions(tool)
    edges = []
    for name, part in tool.parts.items():
        if name in {"work", "ejector"} or name.startswith(("ring_", "spacer_")):
            continue
        found = outline(part)
        zero = at[f"{name}/{part.origin_face}"]
        edges += [(name, (zero + e.z0, e.r0), (zero + e.z1, e.r1)) for e in found.outer]
    face = at["work/mouth"]
    shapes = [holder_corners(passing, face)]
    if passing.tip_ahead_mm > 0:
        shapes.append(insert_corners(passing, face))
    nearest = least_gap(edges, shapes)
    if nearest is None:
        return
    short = max(0.0, passing.clearance_mm - nearest.gap_mm)
    short = 0.0 if short < 1e-6 else short
    yield Finding(
        "access",
        "stop" if short else "note",
        nearest.part,
        f"least gap of the tool that must pass, to the {nearest.part}",
        nearest.gap_mm,
        f"at least {passing.clearance_mm:.2f}",
        source="plan view at nominal sizes",
        advice=(
            f"The holder meets the {nearest.part} {nearest.z_mm:.1f} mm ahead of the quill face, at diameter "
            f"{2 * nearest.r_mm:.1f}."
            if short
            else f"Tightest at diameter {2 * nearest.r_mm:.1f}, {nearest.z_mm:.1f} mm ahead of the quill face."
        ),
        miss=short,
        cures=("spindle.overhang", "spindle.nose_diameter", "passes.end_distance"),
    )


def _lever(choices: Choices) -> Iterator[Finding]:
    if choices.counts["rings"] < 2:
        yield Finding(
            "lever",
            "stop",
            "stack",
            "one bearing cannot hold a point steady",
            float(choices.counts["rings"]),
            "at least 2",
            "rings",
            "statics",
            "Add a second bearing behind the first, spread from it.",
        )
        return
    arm, span = choices.facts["arm"], choices.facts["span"]
    factor = (arm + span) / span
    far = factor > LEVER_WANTED + 1e-6
    yield Finding(
        "lever",
        "warn" if far else "note",
        "stack",
        "lever factor at the front bearing",
        factor,
        f"at most {LEVER_WANTED:g}",
        "",
        "statics: load times (arm + span) / span",
        f"A side load at the work stands {arm:.1f} mm ahead of the front bearing, the bearings are {span:.1f} mm "
        f"apart: the front bearing feels {factor:.2f} times the load.",
        miss=max(0.0, factor - LEVER_WANTED) if far else 0.0,
        cures=("stack.spacer_1",),
    )


def _point(choices: Choices) -> Iterator[Finding]:
    if "work/mouth" not in choices.sizes:
        return
    base = choices.sizes["spindle/slim" if choices.counts["slim"] else "spindle/nose"].nominal_mm
    mouth, tip = choices.sizes["work/mouth"].nominal_mm, choices.sizes["spindle/tip"].nominal_mm
    cures = ("spindle.nose_diameter", "passes.centre_hole")
    yield mouth_finding("spindle/point", base, mouth, cures)
    yield tip_finding("spindle/tip", mouth, tip, choices.facts["point_half_deg"], ("spindle.tip",))


def _nose(choices: Choices) -> Iterator[Finding]:
    """The cover goes on over the nose."""
    collar = choices.sizes["spindle/collar"]
    nose = choices.sizes["spindle/nose"].nominal_mm
    over = max(0.0, nose - collar.nominal_mm)
    if over:
        yield Finding(
            "nose_passes_cover",
            "stop",
            "spindle/nose",
            "nose thicker than the collar",
            nose,
            f"at most {collar.nominal_mm:.1f}",
            source="assembly",
            miss=over,
            cures=("spindle.nose_diameter",),
            advice="The cover goes on over the nose, after the bearings.",
        )


def _retention(choices: Choices) -> Iterator[Finding]:
    style, rule = choices.names["retention"], choices.rule_of("retention.style")
    yield Finding(
        "retention",
        "note",
        "retention.style",
        f"bearings drawn up by a {style}",
        unit="",
        source="this program",
        advice=f"{rule[:1].upper()}{rule[1:]}.",
    )
    if choices.counts["through"]:
        yield _shank_wall(choices)
    if style == "screw":
        yield _head_wall(choices)


def _shank_wall(choices: Choices) -> Finding:
    most, bore = choices.facts["through_bore_most"], choices.sizes["body/through_bore"]
    return Finding(
        "shank_wall",
        "stop" if bore.nominal_mm > most + 1e-6 else "note",
        "body/through_bore",
        "through bore leaves the small end its wall",
        bore.nominal_mm,
        f"at most {most:.1f}",
        source="shop choice: 0.15 of the small end, 2 at least; tang and drawbar thread kept whole",
        advice="A thin small end springs and the tang splits.",
        miss=max(0.0, bore.nominal_mm - most),
        cures=("body.through_bore",),
    )


def _head_wall(choices: Choices) -> Finding:
    head, least = choices.sizes["screw/head"].low, choices.sizes["screw/head_least"].nominal_mm - 0.15
    full = "as bought" if not choices.counts["head_turned_down"] else "turned down"
    return Finding(
        "head_wall",
        "stop" if head < least - 1e-6 else "note",
        "screw/head",
        f"screw head {full}: wall round its hexagon",
        head,
        f"at least {least:.1f}",
        source="shop choice: 0.9 round the corners of the hexagon",
        advice="A head turned too far splits at the corners of its socket.",
        miss=max(0.0, least - head),
        cures=("body.through_bore",),
    )


def _reading(choices: Choices, index: int, name: str) -> Iterator[Finding]:
    size, word = choices.sizes[f"ring_{index}/{name}"], "width" if name == "outer_width" else name
    if size.measured_mm is None:
        return
    low, high = size.nominal_mm + size.lower_mm, size.nominal_mm + size.upper_mm
    off = max(low - MEASURING_DOUBT_MM - size.measured_mm, size.measured_mm - high - MEASURING_DOUBT_MM, 0.0)
    if off > 1e-9:
        yield Finding(
            "reading",
            "stop" if off > WRONG_RING_MM else "warn",
            f"ring_{index}/{name}",
            f"{word} as measured is not that of a {choices.names[f'ring_{index}/label']}",
            size.measured_mm,
            f"{low:.3f} to {high:.3f}",
            source=size.source,
            advice="Measure again; if the reading stands it is another bearing, or a worn one.",
            miss=off,
        )


def _rings(choices: Choices) -> Iterator[Finding]:
    """A ring taken twice, rings whose widths nobody has measured, and readings that cannot be of the ring named."""
    if choices.counts.get("doubled"):
        label = choices.names["ring_1/label"]
        yield Finding(
            "doubled", "note", "stack[0].count", f"{label} taken twice", unit="", source="this program",
            advice=f"The stack names one bearing and one cannot hold a point steady: buy two {label}. A spacer listed "
            "behind it stands between the two. Write count = 2, or list the second bearing.",
        )  # fmt: skip
    for index in range(1, choices.counts["rings"] + 1):
        for name in ("outer_width", "bore", "outside"):
            yield from _reading(choices, index, name)
        if choices.sizes[f"ring_{index}/outer_width"].measured_mm is None:
            yield Finding(
                "measure",
                "note",
                f"ring_{index}",
                f"bearing {index}: {choices.names[f'ring_{index}/label']} not measured",
                choices.sizes[f"ring_{index}/outer_width"].nominal_mm,
                "measure",
                source=choices.sizes[f"ring_{index}/outer_width"].source,
                advice="Buy first, measure bore, outside and width, and give the readings in [[stack]].",
            )
