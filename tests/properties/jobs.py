"""Strategies that draw jobs: any that the reader accepts, sensible ones, and sensible ones spoilt in one place."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from generator.tables.loader import load

DEEP_GROOVE = tuple(
    row.text("designation")
    for row in load("rings").rows
    if row.text("type") == "deep groove" and row.number("bore_mm") >= 6
)
ENDS = st.sampled_from(["plain", "tang", "drawbar"])


def tenths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths in tenths of a millimetre."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda n: n / 10)


@st.composite
def tables(draw: Any, **fields: st.SearchStrategy[Any]) -> dict[str, Any]:
    """Some of the fields, each drawn only half of the time."""
    return {name: draw(strategy) for name, strategy in fields.items() if draw(st.booleans())}


@st.composite
def stacks(draw: Any) -> list[dict[str, Any]]:
    """Rings from the table and outright, in any order, with spacers and readings now and then."""
    rows: list[dict[str, Any]] = []
    for _ in range(draw(st.integers(1, 4))):
        if draw(st.integers(0, 4)) == 0:
            bore = draw(tenths(6, 40))
            outside = bore + draw(tenths(5, 40))
            row: dict[str, Any] = {"bore": bore, "outside": outside, "width": draw(tenths(3, 20))}
        else:
            row = {"ring": draw(st.sampled_from(DEEP_GROOVE))}
        if draw(st.integers(0, 5)) == 0:
            row["count"] = draw(st.integers(1, 3))
        if draw(st.integers(0, 9)) == 0:
            row["measured_width"] = draw(tenths(3, 20))
        rows.append(row)
        if draw(st.integers(0, 5)) == 0:
            rows.append({"spacer": draw(tenths(0.1, 40))})
    return rows


def _falling(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Rings sorted so that most stacks can be put together: larger ones first."""
    by_name = {row.text("designation"): row for row in load("rings").rows}

    def size(row: dict[str, Any]) -> tuple[float, float]:
        if "ring" in row:
            found = by_name[row["ring"]]
            return found.number("outside_mm"), found.number("bore_mm")
        return row["outside"], row["bore"]

    return sorted((row for row in rows if "spacer" not in row), key=size, reverse=True)


@st.composite
def centres(draw: Any) -> dict[str, Any]:
    """A revolving centre that the job file accepts, sound or not; every other one leaves most to the rules."""
    wild, stack = draw(st.booleans()), draw(stacks())
    return {
        "socket": {"taper": f"Morse {draw(st.integers(0, 6))}"}
        | (draw(tables(ejector_depth=tenths(20, 250), ejector_nose_diameter=tenths(3, 60))) if wild else {}),
        "passes": {
            "holder_width": draw(tenths(4, 40)),
            "tip_ahead": draw(tenths(0.5, 12)),
            "work_diameter": draw(tenths(2, 120)),
        }
        | (
            draw(tables(tip_beside=tenths(0.1, 10), end_distance=tenths(0.1, 30), centre_hole=tenths(1, 30)))
            if wild
            else {}
        ),
        "stack": stack if wild and draw(st.integers(0, 2)) == 0 else _falling(stack),
        "shank": draw(
            tables(end=ENDS, stand_off=tenths(0.1, 20), length=tenths(20, 220)) if wild else tables(end=ENDS)
        ),
        "body": draw(
            tables(
                barrel_diameter=tenths(10, 120),
                barrel_length=tenths(5, 150),
                through_bore=tenths(0.5, 40),
                floor_recess_diameter=tenths(5, 80),
                flats_across=tenths(5, 100),
            )
        )
        if wild and draw(st.booleans())
        else {},
        "spindle": draw(
            tables(
                nose_diameter=tenths(2, 60),
                overhang=tenths(1, 120),
                slim_diameter=tenths(2, 40),
                tip=tenths(0.1, 20),
                slim_length=tenths(1, 60),
                collar_diameter=tenths(5, 60),
                hold=st.sampled_from(["flats", "hole", "none"]),
                point_angle=st.sampled_from([60, 75, 90, 20]),
            )
        )
        if wild and draw(st.booleans())
        else {},
        "retention": {}
        if not wild
        else draw(
            tables(
                style=st.sampled_from(["screw", "nut", "circlip"]),
                screw=st.sampled_from(["M4", "M5", "M6", "M8", "M10", "M12"]),
                screw_length=tenths(5, 80),
            )
        ),
        "cover": draw(
            tables(
                style=st.sampled_from(["pressed", "stuck", "snap ring", "screwed"]),
                thickness=tenths(0.5, 12),
                gap=tenths(0.1, 2),
            )
            if wild
            else tables(style=st.sampled_from(["pressed", "stuck", "screwed"]))
        ),
    }


@st.composite
def dead_centres(draw: Any) -> dict[str, Any]:
    """A dead centre that the job file accepts, sound or not."""
    return {
        "socket": {"taper": f"Morse {draw(st.integers(0, 6))}"},
        "shank": draw(tables(end=ENDS, stand_off=tenths(0.1, 20), length=tenths(20, 220))),
        "point": {"work_diameter": draw(tenths(2, 120)), "form": draw(st.sampled_from(["full", "half"]))}
        | draw(
            tables(
                head_diameter=tenths(2, 80),
                head_length=tenths(0.5, 60),
                tip=tenths(0.1, 10),
                centre_hole=tenths(1, 40),
                flat_height=tenths(0.1, 10),
                flat_length=tenths(1, 60),
            )
        ),
    }
