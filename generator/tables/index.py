"""What tables there are: file name, one line, key columns, columns that may be empty."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["INDEX", "Entry"]


@dataclass(frozen=True, slots=True)
class Entry:
    """The rules of one table file."""

    what: str
    keys: tuple[str, ...]
    optional: frozenset[str] = frozenset()


INDEX: dict[str, Entry] = {
    "morse": Entry(
        "Morse and metric tapers, shanks and sockets, ISO 296 (mm)",
        ("taper",),
        frozenset({
            "tang_small_end_mm", "tang_diameter_mm", "tang_total_mm", "tang_overall_mm", "tang_thickness_mm",
            "tang_flat_mm", "tang_runout_mm", "tang_radius_mm", "drawbar_depth_mm", "drawbar_clearance_mm",
            "socket_gap_mm",
        }),
    ),
    "morse_inch": Entry(
        "Morse tapers in inches, ASME B5.10, the inch generation",
        ("taper",),
    ),
    "morse_older": Entry(
        "Morse shanks of the older inch-derived DIN 228 generation; never mixed with ISO 296",
        ("taper",),
    ),
    "chuck_tapers": Entry(
        "Drill-chuck tapers: Jacobs and DIN 238 B (ISO 239)",
        ("taper",),
        frozenset({"overall_mm", "face_stand_off_mm"}),
    ),
    "rings": Entry(
        "Rolling bearings: boundary sizes, chamfers, abutments, ring lands",
        ("designation",),
        frozenset({
            "contact_angle_deg", "inner_width_mm", "outer_width_mm", "sealed_width_mm", "small_chamfer_mm",
            "shaft_shoulder_mm", "housing_shoulder_mm", "fillet_mm", "load_centre_mm", "mass_kg",
            "inner_land_mm", "inner_land_sealed_mm", "narrow_land_mm", "outer_land_mm", "outer_land_sealed_mm",
            "second_inner_land_mm", "second_outer_land_mm",
        }),
    ),
    "ring_ratings": Entry(
        "Rolling bearings: ratings C and C0, factors and speed limits, by maker",
        ("designation", "maker"),
        frozenset({"f0_factor", "e_factor", "Y_factor", "Y0_factor", "X_factor", "grease_rpm", "oil_rpm"}),
    ),
    "ring_relations": Entry(
        "Relations for land diameters, ball size and axial play of a ring",
        ("quantity",),
    ),
    "iso281_factors": Entry(
        "ISO 281 factors e and Y against f0 Fa / C0",
        ("type", "load_ratio"),
    ),
    "iso281_constants": Entry(
        "ISO 281 and ISO 76 constants by contact angle",
        ("type", "quantity"),
    ),
    "iso492_inner": Entry(
        "ISO 492 limits and run-out of inner rings; widths of both rings",
        ("accuracy", "over_mm"),
        frozenset({"face_runout_um", "axial_runout_um"}),
    ),
    "iso492_outer": Entry(
        "ISO 492 limits and run-out of outer rings",
        ("accuracy", "over_mm"),
    ),
    "iso492_taper_roller": Entry(
        "ISO 492 limits of taper-roller bearings",
        ("accuracy", "over_mm"),
        frozenset({"inner_width_lower_um", "outer_width_lower_um", "assembled_upper_um", "assembled_lower_um"}),
    ),
    "iso5753": Entry(
        "ISO 5753-1 radial clearance of deep groove rings, not mounted",
        ("group", "over_mm"),
    ),
    "ring_shoulders": Entry(
        "Fillet and shoulder height for a ring chamfer",
        ("chamfer_mm",),
        frozenset({"shoulder_angular_min_mm"}),
    ),
    "ring_undercuts": Entry(
        "Shaft undercuts for bearing seats by ring chamfer",
        ("chamfer_mm",),
    ),
    "duplex_preload": Entry(
        "Preload of 15 degree duplex sets",
        ("designation",),
    ),
    "iso286": Entry(
        "ISO 286-2 limit deviations of the classes that seats use",
        ("tolerance_class", "over_mm"),
    ),
    "iso286_grades": Entry(
        "ISO 286-1 standard tolerance grades IT5 to IT11",
        ("grade", "over_mm"),
    ),
    "threads": Entry(
        "Screw threads: metric coarse and fine, UNC and UNF, with tap drills (basic sizes)",
        ("thread",),
        frozenset({"threads_tpi"}),
    ),
    "cap_screws": Entry(
        "Hexagon socket head cap screws, ISO 4762",
        ("thread",),
    ),
    "cap_screw_lengths": Entry(
        "Usual lengths of cap screws, ISO 4762",
        ("length_mm",),
    ),
    "clearance_holes": Entry(
        "Clearance holes for screws, ISO 273",
        ("thread",),
    ),
    "counterbores": Entry(
        "Counterbores for cap screws, DIN 974-1 series 1",
        ("thread",),
    ),
    "washers": Entry(
        "Plain washers ISO 7089 and large washers ISO 7093",
        ("size", "series"),
        frozenset({"inside_max_mm", "outside_min_mm"}),
    ),
    "shims": Entry(
        "Shim rings, DIN 988",
        ("size",),
    ),
    "shim_thicknesses": Entry(
        "Thicknesses of shim rings PS, DIN 988",
        ("thickness_mm",),
    ),
    "circlips_outside": Entry(
        "External circlips and their grooves, DIN 471",
        ("size_mm",),
    ),
    "circlips_inside": Entry(
        "Internal circlips and their grooves, DIN 472",
        ("size_mm",),
    ),
    "centre_holes": Entry(
        "Centre holes, forms A, B, R, ISO 6411 / DIN 332-1",
        ("form", "pilot_mm"),
        frozenset({
            "protecting_mm", "protecting_depth_mm", "cut_off_mm", "flank_radius_min_mm", "flank_radius_max_mm",
            "pilot_length_mm",
        }),
    ),
    "centre_drills": Entry(
        "Centre drills form A, ISO 866",
        ("pilot_mm",),
    ),
    "centre_hole_choice": Entry(
        "Pilot of the centre hole for a work diameter",
        ("over_mm",),
    ),
    "dies": Entry(
        "Round dies and the threads each takes",
        ("size",),
    ),
    "hex_keys": Entry(
        "Hexagon keys, ISO 2936, present edition",
        ("size_mm",),
        frozenset({"long_arm_long_mm", "long_arm_extra_mm"}),
    ),
    "hex_keys_older": Entry(
        "Hexagon keys of the earlier edition, still in most tool boxes",
        ("size_mm",),
    ),
    "keys_and_tools": Entry(
        "Spanners, circlip pliers, carriers, chucks, feelers",
        ("group", "item", "size", "quantity"),
    ),
    "bars": Entry(
        "Stocked bar sizes, mm and inch, with limits and mass",
        ("size", "finish"),
    ),
    "bar_rules": Entry(
        "Bar tolerances, densities, cutting and turning allowances",
        ("kind", "item", "quantity"),
    ),
    "general_tolerances": Entry(
        "General tolerances for lengths, ISO 2768-1 table 1",
        ("class_letter", "over_mm"),
    ),
    "general_tolerances_edges": Entry(
        "General tolerances for radii and chamfers, ISO 2768-1 table 2",
        ("class_letter", "over_mm"),
    ),
    "general_tolerances_angles": Entry(
        "General tolerances for angles, ISO 2768-1 table 3",
        ("class_letter", "over_mm"),
    ),
    "machines": Entry(
        "Lathes by swing class: what is usual, low and high; measure the machine",
        ("class_swing", "part", "quantity"),
    ),
    "materials": Entry(
        "Materials: strength, modulus, expansion, hardness, treatment, machinability",
        ("material",),
        frozenset({"yield_mpa", "tensile_mpa", "modulus_gpa", "poisson_ratio"}),
    ),
    "friction": Entry(
        "Friction coefficients: tapers, threads, points",
        ("pair", "use"),
    ),
    "kienzle": Entry(
        "Kienzle constants kc1.1 and mc for turning",
        ("material", "list"),
    ),
    "cutting_force_by_feed": Entry(
        "Specific cutting force against feed, 45 degree tool",
        ("material", "feed_mm_rev"),
    ),
    "cutting_force_simple": Entry(
        "Simple turning force F = k depth feed",
        ("material",),
    ),
    "cutting_speeds": Entry(
        "Cutting speeds by material and operation",
        ("material", "operation"),
    ),
    "feeds": Entry(
        "Feeds for turning and drilling with high-speed steel",
        ("material", "operation", "quantity"),
    ),
    "drills": Entry(
        "Twist drills by diameter band: DIN 338, 340, 1897, 345",
        ("standard", "over_mm"),
    ),
    "drills_inch": Entry(
        "Twist drills in inches, ASME B94.11M (overall to the point shoulder)",
        ("size", "series"),
    ),
    "drill_rules": Entry(
        "Drill points and what a drill may be asked to do",
        ("standard", "quantity"),
    ),
    "boring_bars": Entry(
        "Boring bars: shank, least bore, reach",
        ("kind", "item", "least_bore_mm"),
        frozenset({"bar_mm", "tip_offset_mm", "overall_mm"}),
    ),
    "boring_rules": Entry(
        "Overhang, stiffness and practice of boring",
        ("kind", "item", "quantity"),
    ),
    "holders": Entry(
        "Turning-tool holders: shank, tip offset, length, insert",
        ("item", "size"),
    ),
    "tool_posts": Entry(
        "Inserts, tool bits, tool posts and their envelopes",
        ("kind", "item", "size", "quantity"),
        frozenset({"height_mm"}),
    ),
    "retaining": Entry(
        "Anaerobic retaining compounds: gap and strength by grade",
        ("grade",),
    ),
    "retaining_rules": Entry(
        "Use of retaining compounds; washers as covers",
        ("group", "item", "quantity"),
    ),
    "thread_reliefs": Entry(
        "Outside thread reliefs by pitch, DIN 76-1 form A",
        ("pitch_mm",),
    ),
    "undercuts": Entry(
        "Undercuts for shoulders, DIN 509 forms E and F",
        ("form", "radius_mm", "over_mm", "depth_mm"),
        frozenset({"face_depth_mm"}),
    ),
    "balls": Entry(
        "Loose steel balls, stocked sizes",
        ("ball",),
    ),
}
