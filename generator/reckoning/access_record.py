"""The calculation `access`: whether the tool reaches the end of the work, where it is tightest, and what is cheap."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from generator.errors import OutputError
from generator.reckoning import access
from generator.reckoning.access_cures import Cure, Limits, ranked
from generator.reckoning.cutting import finish_height_um, split_force_n
from generator.reckoning.registry import Input, Outcome, Output, Reckoning, refuse

__all__ = ["RECKONING"]

_SHOWN_CURES = 8


def _centre(given: Mapping[str, Any]) -> access.Centre:
    """The centre by its caliper sizes, or by the rows given."""
    mouth = given["centre_hole"]
    if mouth is None:
        from generator.tables import centre_hole_for

        mouth = centre_hole_for(given["work_diameter"]).countersink_mm
    stages = tuple(access.Stage(row[0], row[1], row[2], row[3] or row[1]) for row in given["stages"])
    for name in ("slim", "nose", "barrel"):
        if given[f"{name}_diameter"] is not None and not given["stages"]:
            diameter, length = given[f"{name}_diameter"], given[f"{name}_length"]
            if length is None:
                refuse(f"access, {name}_length", "is missing beside its diameter", "", f"give {name}_length")
            stages += (access.Stage(name, diameter, length, diameter),)
    if not stages:
        refuse("access", "the centre is not known", "",
               "measure it and give barrel_diameter and barrel_length, nose_diameter and nose_length; or stages")
    if given["stand_off"] > 0:
        behind = min(stages[-1].rear_mm, given["quill_diameter"] or stages[-1].rear_mm)
        stages += (access.Stage("stand-off", behind, given["stand_off"], behind),)
    if mouth > stages[0].diameter_mm:
        refuse("access, centre_hole", "the mouth of the hole is larger than the point's cone", f"{mouth:g} mm",
               "give a smaller centre_hole")
    return access.Centre(
        mouth, stages, given["point_angle"], given["quill_diameter"], given["quill_out"], given["casting"],
        given["flat_height"],
    )


def _holder(given: Mapping[str, Any]) -> access.Holder:
    """The tool by its caliper sizes, or by a row of the table of holders."""
    width, beside, trailing, approach = (given[key] for key in ("holder_width", "tip_beside", "trailing", "approach"))
    if given["holder"] is not None:
        from generator.reckoning.access_cures import table_holders

        wanted = given["holder"].casefold().replace(" ", "")
        known = {name.casefold().replace(" ", ""): holder for name, holder, _ in table_holders(60.0)}
        if wanted not in known:
            refuse("access, holder", "no such row in the table holders", repr(given["holder"]),
                   'write item and size, such as holder="SDJCR/L 1616H", or give holder_width and tip_ahead')
        row = known[wanted]
        width, beside, trailing = width or row.width_mm, row.tip_beside_mm, trailing or row.trailing_deg
        approach = approach or row.approach_deg
    if width is None:
        refuse("access", "the tool is not known", "", "give holder_width and tip_ahead, or holder")
    return access.Holder(
        width, given["tip_ahead"], beside, given["insert_width"], trailing, approach or 93.0,
        given["tool_out"] or max(2.0 * width, given["tip_ahead"] + 1.0), given["post_reach"], given["slide_reach"],
        given["slide_behind"], given["slide_below"],
    )


def _work(given: Mapping[str, Any]) -> Outcome:
    centre, holder = _centre(given), _holder(given)
    cut = access.Cut(given["work_diameter"], given["end_distance"], given["cut_length"], given["retract"],
                     given["waits"])
    things, swing, clearance = access.obstacles(centre), given["swing"], given["clearance"]
    tightest = access.least_gap(holder, cut, things, swing)
    least = access.least_diameter_mm(holder, cut, things, clearance, swing, centre.mouth_mm)
    left = access.angles_left(
        holder, swing, given["side_rake"], given["back_rake"], given["flank"], given["feed"] or 0.0, cut.diameter_mm
    )
    clears = tightest.gap_mm >= clearance - 1e-6
    values: dict[str, Any] = {
        "verdict": "the tool passes" if clears else "the tool does not pass",
        "least_gap": tightest.gap_mm, "clearance_wanted": clearance, "tightest_tool": tightest.tool,
        "tightest_on": tightest.obstacle, "tightest_at": tightest.gap.second[0],
        "tightest_diameter": 2 * tightest.gap.second[1], "tightest_during": tightest.during,
        "least_work_diameter": least, **_gaps(holder, cut, things, swing),
        "approach_left": left.approach_deg, "trailing_left": left.trailing_deg, "side_rake_left": left.side_rake_deg,
        "back_rake_left": left.back_rake_deg, "clearance_left": left.clearance_deg,
        "square_shoulder": left.approach_deg >= 90.0, **_finish(given, left),
    }
    if not clears or given["cures"]:
        more = max(0.0, (given["quill_travel"] or 0.0) - given["quill_out"])
        limits = Limits(clearance, more, given["shank_height"], _morse(given), given["make_nose"], swing)
        for number, cure in enumerate(ranked(holder, cut, centre, limits)[:_SHOWN_CURES], 1):
            values |= _cure(number, cure)
    picture = _drawn(given, holder, cut, things, tightest)
    sources = ("holders: table after ISO 5610",) if given["holder"] or given["shank_height"] else ()
    return Outcome({**values, **picture}, sources, _notes(given, left))


def _gaps(holder: access.Holder, cut: access.Cut, things: tuple[access.Obstacle, ...], swing: float) -> dict[str, Any]:
    """The least gap to the centre, to the quill and to the casting, and that along the cut and at retract."""
    groups = {
        "gap_centre": [thing for thing in things if thing.name not in ("quill", "casting")],
        "gap_quill": [thing for thing in things if thing.name == "quill"],
        "gap_casting": [thing for thing in things if thing.name == "casting"],
    }
    found = {name: access.least_gap(holder, cut, held, swing).gap_mm for name, held in groups.items() if held}
    for during in ("cut", "retract"):
        found[f"gap_{during}"] = access.least_gap(holder, cut, things, swing, during=during).gap_mm
    return found


def _finish(given: Mapping[str, Any], left: access.Angles) -> dict[str, Any]:
    """Ridges left by the swung tool, and its push towards the axis over that along it."""
    _, depth = split_force_n(1.0, min(120.0, max(10.0, left.approach_deg)))
    values: dict[str, Any] = {"push_at_axis": max(0.0, depth)}
    if given["feed"] is not None and given["nose"] is not None and left.trailing_deg > 0:
        values["finish_height"] = finish_height_um(given["feed"], given["nose"], min(90.0, left.trailing_deg))
    return values


def _morse(given: Mapping[str, Any]) -> int | None:
    if given["taper"] is None:
        return None
    from generator.reckoning.grip import morse_of

    return morse_of(given["taper"]).number


def _cure(number: int, cure: Cure) -> dict[str, Any]:
    words = f"{cure.what}{'' if cure.clears else ' (not enough)'}{f'; {cure.cost}' if cure.cost else ''}"
    return {
        f"cure_{number}": words, f"cure_{number}_gap": cure.gap_mm,
        f"cure_{number}_least_diameter": cure.least_diameter_mm,
    }


def _notes(given: Mapping[str, Any], left: access.Angles) -> tuple[str, ...]:
    notes = ["Caution: bring the tool up by hand, work standing still, and set a carriage stop before feeding."]
    if left.trailing_deg < 3.0:
        notes.append("Less than 3 degrees are left behind the tip: the trailing edge rubs on the finished work.")
    if given["swing"] and left.approach_deg < 75.0:
        notes.append("A tool swung this far pushes slender work away: light cuts.")
    return tuple(notes)


def _drawn(
    given: Mapping[str, Any], holder: access.Holder, cut: access.Cut, things: tuple[access.Obstacle, ...],
    tightest: access.Tightest,
) -> dict[str, Any]:
    """The picture as text, or written to the file named."""
    if given["svg"] is None and not given["picture"]:
        return {}
    from generator.reckoning.access_picture import picture

    text = picture(things, access.tool_shapes(holder, given["swing"]), cut, tightest, given["clearance"])
    if given["svg"] is None:
        return {"picture": text}
    path = Path(given["svg"])
    if path.suffix.casefold() != ".svg":
        rule = "a picture is written to a file whose name ends in .svg"
        refuse("access, svg", rule, repr(given["svg"]), "write svg=picture.svg")
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as problem:
        message = f"access, svg: {path} cannot be written ({problem.strerror}); name another file"
        raise OutputError(message) from problem
    return {"picture_file": str(path), **({"picture": text} if given["picture"] else {})}


def _length(name: str, what: str, **limits: Any) -> Input:
    return Input(name, what, "length", "mm", **limits)


_CENTRE_INPUTS = (
    _length("centre_hole", "mouth of the centre hole in the work; the usual one for its diameter without it", above=0),
    Input("point_angle", "included angle of the point", "angle", "deg", default=60.0, least=30, most=120),
    _length("slim_diameter", "diameter of a slim extension behind the point's cone", above=0),
    _length("slim_length", "its length", least=0),
    _length("nose_diameter", "diameter of the nose behind the point's cone", above=0),
    _length("nose_length", "its length, from the cone to the barrel", least=0),
    _length("barrel_diameter", "diameter of barrel or head", above=0),
    _length("barrel_length", "its length", least=0),
    Input("stages", "the centre from the cone backward, instead of those", "rows", fields=(
        Input("name", "name", "text", required=True), _length("diameter", "diameter in front", required=True, above=0),
        _length("length", "length", required=True, least=0), _length("rear", "diameter behind, if a cone", above=0),
    )),
    _length("stand_off", "back face to quill face", default=0.0, least=0),
    _length("flat_height", "half point: flat above the axis", above=0),
    _length("quill_diameter", "outside diameter of the quill; without it no quill is looked at", default=0.0, least=0),
    _length("quill_out", "quill face to casting", default=0.0, least=0),
    _length("quill_travel", "most that the quill goes out", above=0),
    _length("casting", "axis to the operator's side of the casting; without it no casting is looked at", default=0.0,
            least=0),
    Input("taper", "tailstock taper, to reckon a dead and a half centre in it", "text"),
)
_TOOL_INPUTS = (
    Input("holder", 'row of the table holders, such as "SDJCR/L 1616H"', "text"),
    _length("holder_width", "width of the holder along the bed", above=0, most=200),
    _length("tip_ahead", "tip ahead of the holder's front", default=0.0, least=0),
    _length("tip_beside", "tip beside the holder's headstock flank", default=0.0, least=-100),
    _length("insert_width", "insert and seat, from the tip towards the tailstock", default=0.0, least=0),
    Input("trailing", "trailing angle at which the front recedes, instead of tip_ahead", "angle", "deg", least=0,
          below=90),
    Input("approach", "approach angle of the edge; 93 without it", "angle", "deg", least=30, most=120),
    Input("swing", "tool swung, its rear towards the headstock", "angle", "deg", default=0.0, least=-45, most=45),
    _length("tool_out", "tip ahead of the tool post; two holder widths without it", above=0),
    _length("post_reach", "tool post beyond the tip, towards the tailstock", default=0.0, least=0),
    _length("slide_reach", "top slide beyond the tip, towards the tailstock", default=0.0, least=0),
    _length("slide_behind", "front of the top slide behind the tip", default=0.0, least=0),
    _length("slide_below", "top of the top slide below centre height", default=0.0, least=0),
    _length("shank_height", "shank height that fits the tool post, to look among the holders of the table", above=0),
    Input("side_rake", "side rake of the tool, unswung", "angle", "deg", default=0.0, least=-30, most=45),
    Input("back_rake", "back rake of the tool, unswung", "angle", "deg", default=0.0, least=-30, most=45),
    Input("flank", "clearance angle of the flank", "angle", "deg", default=7.0, least=0, most=40),
    _length("nose", "nose radius", above=0),
    Input("feed", "feed", "feed", "mm/rev", above=0),
)
_CUT_INPUTS = (
    _length("work_diameter", "finished diameter at the tailstock end", required=True, above=0, most=1000),
    _length("end_distance", "tip to the end face at the end of the work; below zero past it", default=0.0, least=-200,
            most=500),
    _length("cut_length", "how far from the end face the cut goes", default=50.0, above=0, most=3000),
    _length("retract", "retract of the tool on the radius", default=2.0, least=0, most=300),
    _length("waits", "how far past the end face the tool waits, retracted; at the start of the cut without it", least=0,
            most=500),
    _length("clearance", "air wanted", default=0.5, least=0, most=20),
    _length("make_nose", "diameter of nose for a centre made for the job", above=0),
    Input("cures", "list the cures although the tool passes", "yes or no", default=False),
    Input("picture", "picture in the result", "yes or no", default=False),
    Input("svg", "file for the picture", "file"),
)

RECKONING = Reckoning(
    name="access",
    summary="whether the turning tool reaches the end of the work; the tightest place; cheap cures before making one",
    inputs=(*_CUT_INPUTS, *_TOOL_INPUTS, *_CENTRE_INPUTS),
    outputs=(
        Output("verdict", "", "whether the tool passes with the air wanted"),
        Output("least_gap", "mm", "least gap; below zero how deep they overlap"),
        Output("clearance_wanted", "mm", "air wanted"),
        Output("tightest_tool", "", "piece of the tool that is nearest"),
        Output("tightest_on", "", "what it is nearest to"),
        Output("tightest_at", "mm", "where, from the work's end face, below zero towards the tailstock"),
        Output("tightest_diameter", "mm", "diameter there"),
        Output("tightest_during", "", "during cut or retract"),
        Output("least_work_diameter", "mm", "least diameter that can be turned to the end; not below the hole's mouth"),
        Output("gap_centre", "mm", "least gap to the centre"),
        Output("gap_quill", "mm", "least gap to the quill"),
        Output("gap_casting", "mm", "least gap to the casting"),
        Output("gap_cut", "mm", "least gap from start to end of the cut"),
        Output("gap_retract", "mm", "least gap with the tool retracted"),
        Output("approach_left", "deg", "approach angle after the swing"),
        Output("trailing_left", "deg", "trailing angle after the swing"),
        Output("side_rake_left", "deg", "side rake after the swing"),
        Output("back_rake_left", "deg", "back rake after the swing"),
        Output("clearance_left", "deg", "clearance along the feed after the swing, less the helix of the feed"),
        Output("square_shoulder", "", "whether it still cuts a square shoulder"),
        Output("push_at_axis", "", "share of the edge's push that points at the axis"),
        Output("finish_height", "um", "ridges with feed, nose and trailing angle left"),
        *(
            output
            for number in range(1, _SHOWN_CURES + 1)
            for output in (
                Output(f"cure_{number}", "", f"what helps, {number} in order: what clears first, by effort"),
                Output(f"cure_{number}_gap", "mm", "gap it would give"),
                Output(f"cure_{number}_least_diameter", "mm", "least diameter to the end it would give"),
            )
        ),
        Output("picture", "", "picture of the tightest place, SVG"),
        Output("picture_file", "", "file it was written to"),
    ),
    work=_work,
    source="plan view, geometry of convex shapes; clearance 0.5 to 1 mm and order of cures common practice, no source",
    validity=(
        "Plan view at centre height and nominal sizes: what hangs below (chip guard, handles, carriage apron) is not "
        "seen. Measure the parts at hand; shapes of holders from the table are simplified."
    ),
    example={
        "work_diameter": "22 mm", "centre_hole": "6.3 mm", "holder_width": "16 mm", "tip_ahead": "6 mm",
        "tip_beside": "1 mm", "insert_width": "7 mm", "nose_diameter": "20 mm", "nose_length": "3 mm",
        "barrel_diameter": "55 mm", "barrel_length": "40 mm", "stand_off": "4 mm", "quill_diameter": "42 mm",
        "quill_out": "30 mm", "quill_travel": "80 mm", "casting": "45 mm", "taper": "Morse 3", "shank_height": "16 mm",
    },
)
