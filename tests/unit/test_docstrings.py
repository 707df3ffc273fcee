"""Every figure can be traced: formulas and facts name their source, floats their unit, and printed examples run."""

from __future__ import annotations

import ast
import doctest
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MODULES = sorted((ROOT / "generator").rglob("*.py"))

# These move, read and print figures and know none of their own.
MACHINERY = {
    "making/cuts", "making/figures", "reckoning/amounts", "reckoning/quantities", "reckoning/registry",
    "tables/browse", "tables/index", "tables/loader", "tables/own",
}
# These gather what the description or other functions hold; what they rest on is named there.
GATHERERS = {
    "making/assembly": {"assembly_moves"},
    "making/commissioning": {"truths"},
    "making/inspection": {"bought_rings", "inspection_rows"},
    "making/missed": {"broken_by", "face_moves", "miss_of", "recut_for", "shift_of", "sized"},
    "making/readings": {"as_made", "inspection_table", "judge", "read_readings"},
    "making/rescue": {"ladders", "rung_of"},
    "making/rescue_fits": {"fit_ways", "held_by"},
    "making/operations_access": {"carried_end"},
    "making/operations_blank": {"blanks_of"},
    "making/operations_bores": {"drilled_span", "mouth_of"},
    "making/operations_faces": {"cut_here", "open_face"},
    "making/operations_stops": {"figure_to", "limits_in", "stop_of", "stop_rests_on"},
    "making/operations_target": {"started", "target_of"},
    "making/operations_tools": {"thread_of", "tool_size"},
    "making/plan_checks/__init__": {"compare"},
    "making/plan_checks/lengths": {"transfers"},
    "making/plan_checks/holes": {"inside_of", "untold", "way_out_mm"},
    "making/plan_checks/plan": {"by_whom", "found", "is_hard_held"},
    "making/plan_checks/surfaces": {
        "cut_in", "must_finish", "names_of", "never_cut", "twice_cut", "twice_finished", "unfinished",
        "unknown_addresses", "words",
    },
    "making/plan_checks/told": {"about_untold"},
    "making/plan_checks/truth": {"promises"},
    "making/settings": {"settings_for", "tapers"},
    "making/stock": {"largest_diameter_mm", "overall_mm", "stock_for"},
    "tables/rings": {"nearest_rings"},
}

UNITS = re.compile(
    r"_(mm|um|in|deg|n|n_mm|n_um|mpa|gpa|rpm|m_min|kg|g_cm3|kw|k|c|s|h|mrev|mm2|mm3|mm4|um_m_k|w_m2k|min|m2_s|percent)$"
)
# Pure numbers: ratios of like to like, counts, and what a standard calls a factor or an exponent.
PURE = {
    "axial_factor", "coefficient", "depth_share", "efficiency", "exponent", "f0", "factors", "feed_share", "flutes",
    "friction", "inner", "lead_threads", "load_ratio", "master_taper", "nut_factor", "outer", "ratio",
    "rotation_factor", "safety", "share", "sign", "taper", "tool_share", "web", "weight_share", "worn",
}
# Whose unit is not one, or is told by another argument.
TOLD = {
    "amounts": {"least", "most", "above", "below"},  # in the unit named beside them
    "angles": {"value"},  # any number
    "access_shapes": {"gap_at"},  # a function of the share of a way
    "fit_seat": {"lost"},  # spans with the share of each that is lost
    "part": {"z_of"},  # places by face
    "operations_faces": {"z_of"},
    "operations_named": {"z_of"},
    "touch": {"z_of"},
    "plan": {"value", "least", "most"},  # in the unit named beside them
    "speed": {"limits", "rpm", "speeds"},  # revolutions, said by what they are
    "units": {"value"},  # a bare number in the unit of the file
    "access": {"obstacles"},  # pairs of place and radius
    "loader": {"key"},  # cells of any column
    "missed": {"missed", "moved"},  # sizes by address, in mm
    "readings": {"drawer", "readings"},  # sizes by name or address, in mm
    "rescue": {"drawer"},
    "rescue_fits": {"drawer"},
}


def name_of(path: Path) -> str:
    return path.relative_to(ROOT / "generator").with_suffix("").as_posix()


def public_functions(path: Path) -> Iterator[ast.FunctionDef]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return (one for one in tree.body if isinstance(one, ast.FunctionDef) and not one.name.startswith("_"))


def test_formulas_and_facts_name_their_source() -> None:
    silent = {}
    for path in MODULES:
        name = name_of(path)
        if name.split("/")[0] not in {"making", "reckoning", "tables"} or name in MACHINERY:
            continue
        without = {one.name for one in public_functions(path) if "Source:" not in (ast.get_docstring(one) or "")}
        if without != GATHERERS.get(name, set()):
            silent[name] = without ^ GATHERERS.get(name, set())
    assert silent == {}, "a source is missing, or a name in this test is out of date"


def test_names_of_floats_carry_their_unit() -> None:
    bare = []
    for path in MODULES:
        name = name_of(path)
        if name.split("/")[0] not in {"description", "fittings", "making", "reckoning", "tables", "units"}:
            continue
        told = PURE | TOLD.get(path.stem, set())
        for one in public_functions(path):
            for argument in (*one.args.posonlyargs, *one.args.args, *one.args.kwonlyargs):
                written = ast.unparse(argument.annotation) if argument.annotation is not None else ""
                if re.search(r"\bfloat\b", written) and not UNITS.search(argument.arg) and argument.arg not in told:
                    bare.append(f"{name}.{one.name}: {argument.arg}")
    assert bare == []


@pytest.mark.parametrize(
    "path", [path for path in MODULES if ">>>" in path.read_text(encoding="utf-8")], ids=name_of
)
def test_examples_in_docstrings_run(path: Path) -> None:
    module = import_module("generator." + name_of(path).replace("/", "."))
    done = doctest.testmod(module)
    assert done.attempted
    assert not done.failed
