"""Picture of the tightest place between tool and centre, as SVG text: plan view, line drawing, true to scale."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.reckoning.access import Cut, Obstacle, Tightest
from generator.reckoning.access_shapes import Shape, moved

__all__ = ["picture"]

ROUND_MM = 30.0
PIXELS_PER_MM = 8.0
TEXT_MM = 2.5
CAPTION_MM = 6.0


def picture(
    things: Sequence[Obstacle], tool: Mapping[str, Shape], cut: Cut, tightest: Tightest, clearance_mm: float
) -> str:
    """The neighbourhood of the tightest place as SVG; z to the right towards the headstock, the operator below.

    Source: the shapes reckoned with.
    """
    z, r = tightest.gap.second
    left, right = z - 1.6 * ROUND_MM, max(z + ROUND_MM, tightest.tip_z_mm + 12.0)
    top, bottom = -cut.diameter_mm / 2 - 6.0, max(r + ROUND_MM, tightest.tip_r_mm + 12.0)
    wide, high = right - left, bottom - top + CAPTION_MM
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide * PIXELS_PER_MM:.0f}" '
        f'height="{high * PIXELS_PER_MM:.0f}" viewBox="{left:.2f} {top:.2f} {wide:.2f} {high:.2f}" '
        f'font-family="sans-serif" font-size="{TEXT_MM}">',
        "<title>Tightest place between tool and tailstock, plan view</title>",
        f'<rect x="{left:.2f}" y="{top:.2f}" width="{wide:.2f}" height="{high:.2f}" fill="white"/>',
    ]
    radius = cut.diameter_mm / 2
    lines.append(_shape(((0.0, -radius), (right, -radius), (right, radius), (0.0, radius)), "none", 0.35))
    for thing in things:
        _, front, back, _ = thing.shape
        # Of a half point only the side that is cut away is known here.
        round_all = (front, back, (back[0], -back[1]), (front[0], -front[1]))
        lines.append(_shape(thing.shape if thing.name == "half point" else round_all, "#ececec", 0.35))
    lines.append(
        f'<path d="M {left:.2f} 0 H {right:.2f}" stroke="black" stroke-width="0.18" stroke-dasharray="6 1.2 0.6 1.2"/>'
    )
    for shape in tool.values():
        lines.append(_shape(moved(shape, tightest.tip_z_mm, tightest.tip_r_mm), "none", 0.5))
    lines += [*_gap_line(tightest), _text(right - 1.0, radius - 1.0, "work", "end"), *_names(things, left, right)]
    # The caption stands in a strip of its own, where no line can run through it.
    lines += [
        f'<rect x="{left:.2f}" y="{bottom:.2f}" width="{wide:.2f}" height="{CAPTION_MM:.2f}" fill="white"/>',
        _text(left + 1.0, bottom + CAPTION_MM / 2 + TEXT_MM / 3, _caption(tightest, clearance_mm), "start"), "</svg>",
    ]
    return "\n".join(lines) + "\n"


def _caption(tightest: Tightest, clearance_mm: float) -> str:
    words = "overlap" if tightest.gap_mm < 0 else "gap"
    return (
        f"{words} {abs(tightest.gap_mm):.2f} mm, {tightest.tool} to {tightest.obstacle}, in the ring; "
        f"wanted {clearance_mm:.2f}"
    )


def _gap_line(tightest: Tightest) -> list[str]:
    (z0, r0), (z1, r1) = tightest.gap.first, tightest.gap.second
    return [
        f'<path d="M {z0:.3f} {r0:.3f} L {z1:.3f} {r1:.3f}" stroke="black" stroke-width="0.7"/>',
        f'<circle cx="{z1:.3f}" cy="{r1:.3f}" r="2" fill="none" stroke="black" stroke-width="0.25"/>',
    ]


def _names(things: Sequence[Obstacle], left: float, right: float) -> list[str]:
    """The name of each obstacle that is in the picture, above the axis."""
    named = []
    for thing in things:
        low, high = min(z for z, _ in thing.shape), max(z for z, _ in thing.shape)
        low, high = max(low, left), min(high, right)
        if high - low > TEXT_MM * 0.6 * len(thing.name):
            named.append(_text((low + high) / 2, -1.0, thing.name, "middle"))
    return named


def _shape(shape: Shape, fill: str, width: float) -> str:
    points = " ".join(f"{z:.3f},{r:.3f}" for z, r in shape)
    return f'<polygon points="{points}" fill="{fill}" stroke="black" stroke-width="{width}"/>'


def _text(z: float, r: float, words: str, anchor: str) -> str:
    safe = words.replace("&", "&amp;").replace("<", "&lt;")
    return f'<text x="{z:.2f}" y="{r:.2f}" text-anchor="{anchor}">{safe}</text>'
