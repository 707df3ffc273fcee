"""A small invented tool that exercises every kind of face, surface, zone and cross feature. Not a sound design."""

from __future__ import annotations

from generator.description import Part, PartDraft, Seat, Size, Term, Tool, exact

GENERAL = "ISO 2768-m"


def size(nominal: float, upper: float = 0.2, lower: float = -0.2, **fields: object) -> Size:
    return Size(nominal, upper, lower, source=str(fields.pop("source", GENERAL)), origin="sample", **fields)  # type: ignore[arg-type]


def sample_body() -> Part:
    draft = PartDraft("body", "Body", "front", material="42CrMo4", notes=("Seats cut in one setting.",))
    draft.length("recess/depth", "ledge", "front", -1, size(3.0, 0.05, 0.0))
    draft.length("pocket/depth", "floor", "ledge", -1, size(18.0, 0.02, -0.02, fitted="bore to the measured stack"))
    draft.length("floor_recess/depth", "floor_recess_bottom", "floor", -1, size(4.0))
    draft.length("barrel/length", "back", "front", -1, size(32.0, 0.3, -0.3))
    draft.length("flats/width", "flats_end", "back", 1, size(10.0))
    draft.length("shank/stand_off", "gauge", "back", -1, size(5.0, 0.3, -0.3))
    draft.length("shank/relief", "cone_large", "back", -1, size(2.0))
    draft.length("shank/length", "end", "gauge", -1, size(75.0, 0.3, -0.3))
    draft.length("shank/end_relief", "cone_small", "end", 1, size(5.0))
    barrel = size(44.0, 0.0, -0.1)
    front_end = draft.chamfer("front_chamfer", "outside", "front", -1, barrel, size(1.0))
    back_end = draft.chamfer("back_chamfer", "outside", "back", 1, barrel, size(1.0))
    draft.cylinder("barrel", "outside", back_end, front_end, barrel, finish_ra_um=3.2)
    draft.cylinder("large_relief", "outside", "cone_large", "back", size(23.4), role="relief")
    draft.cone(
        "taper", "outside", "cone_small", "cone_large", exact(23.825, source="ISO 296"), "gauge", 1.4377,
        role="taper", finish_ra_um=0.8,
    )
    draft.cylinder("small_relief", "outside", "end", "cone_small", size(19.2), role="relief")
    draft.cylinder("cover_recess", "inside", "ledge", "front", size(38.0, 0.025, 0.0, tolerance_class="H7"))
    draft.cylinder(
        "pocket", "inside", "floor", "ledge", size(35.0, 0.014, -0.011, tolerance_class="J7", source="ISO 286"),
        role="pocket", finish_ra_um=1.6,
    )
    draft.cylinder("floor_recess", "inside", "floor_recess_bottom", "floor", size(26.0), role="relief")
    draft.cylinder("through_bore", "inside", "end", "floor_recess_bottom", size(10.5))
    draft.corner("pocket", "floor", "R 0.3 max")
    draft.crossing("spanner_flats", "flats", "back", "flats_end", across=size(38.0, 0.0, -0.3))
    draft.relation("pocket", "taper", "run-out", 0.01, "bore with the finished shank held in the spindle taper")
    return draft.done()


def sample_spindle() -> Part:
    draft = PartDraft("spindle", "Spindle", "shoulder", material="C45", sectioned=False)
    draft.length("collar/length", "collar_front", "shoulder", 1, size(6.0))
    draft.length("nose/overhang", "point_end", "shoulder", 1, size(30.0))
    draft.length("seat/length", "seat_end", "shoulder", -1, size(17.5, 0.1, -0.1))
    draft.length("tapped_hole/thread", "thread_end", "seat_end", 1, size(12.0, 0.5, 0.0))
    draft.length("tapped_hole/depth", "hole_bottom", "seat_end", 1, size(15.0, 0.5, 0.0))
    draft.length("tommy/far", "tommy_far", "collar_front", 1, size(8.0))
    draft.length("tommy/near", "tommy_near", "collar_front", 1, size(3.0))
    draft.cone("point", "outside", "point_end", "tip", size(16.0, 0.0, -0.1), "point_end", -30.0, role="point")
    draft.place("tip", "point", size(1.5, 0.0, -0.5))
    draft.cylinder("nose", "outside", "collar_front", "point_end", size(16.0, 0.0, -0.1, derived=True))
    draft.cylinder("collar", "outside", "shoulder", "collar_front", size(21.0))
    seat = size(17.0, 0.012, 0.001, tolerance_class="k6", source="ISO 286")
    seat_end = draft.chamfer("seat_chamfer", "outside", "seat_end", 1, seat, size(0.5))
    draft.cylinder("seat", "outside", seat_end, "shoulder", seat, role="seat", finish_ra_um=0.8)
    draft.cylinder("tapped_hole", "inside", "seat_end", "hole_bottom", size(5.0, derived=True), role="thread")
    draft.cone("drill_point", "inside", "hole_bottom", "drill_tip", size(5.0, derived=True), "hole_bottom", -59.0,
               role="drill point")
    draft.place("drill_tip", "drill_point", size(0.0, derived=True))
    draft.zone("thread", "tapped_hole", "seat_end", "thread_end", "thread", "M6")
    draft.crossing("tommy_hole", "hole", "tommy_near", "tommy_far", diameter=size(5.0, 0.1, 0.0))
    draft.corner("seat", "shoulder", "R 0.3 max")
    return draft.done()


def sample_ring(which: str) -> Part:
    inner = which == "inner"
    draft = PartDraft(f"ring_{which}", "Bearing 6003", "front", bought="6003-2RS", item="ring")
    draft.length("width", "rear", "front", -1, size(10.0, 0.0, -0.12, source="ISO 492"))
    small, large = (17.0, 23.1) if inner else (29.3, 35.0)
    draft.cylinder("outer", "outside", "rear", "front", size(large, 0.0, -0.011))
    draft.cylinder("bore", "inside", "rear", "front", size(small, 0.0, -0.008))
    if inner:
        draft.ball("front", -5.0, 26.0, 5.0)
    return draft.done()


def sample_quill() -> Part:
    draft = PartDraft("quill", "Quill", "face", neighbour=True)
    draft.length("length", "rear", "face", -1, size(90.0))
    draft.cylinder("outside", "outside", "rear", "face", size(45.0))
    draft.cone("socket", "inside", "rear", "face", size(23.825), "face", 1.4377)
    return draft.done()


def sample_tool() -> Tool:
    parts = [sample_quill(), sample_body(), sample_ring("outer"), sample_ring("inner"), sample_spindle()]
    play = Size(0.0, 0.05, -0.05, source="axial play", origin="rule")
    seats = (
        Seat("body", "gauge", "quill", "face", "cone"),
        Seat("ring_outer", "rear", "body", "floor"),
        Seat("ring_inner", "front", "ring_outer", "front", "slide", (Term(1.0, play, "ring/play"),)),
        Seat("spindle", "shoulder", "ring_inner", "front"),
    )
    return Tool("sample", "Sample tool", "quill", {part.name: part for part in parts}, seats,
                turning=frozenset({"ring_inner", "spindle"}))
