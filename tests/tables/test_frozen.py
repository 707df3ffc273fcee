"""Row counts and checksums of our own table files, so that an edit is deliberate; no proof that a figure is right.

After a deliberate edit copy the pair that the failing test prints.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

import generator.tables
from generator.tables import load
from generator.tables.index import INDEX

FOLDER = Path(generator.tables.__file__).parent
FROZEN = {
    "morse": (10, "973c8912d2ba3964"),
    "morse_inch": (7, "a472b476e19c0180"),
    "morse_older": (7, "dde4740a35714d14"),
    "chuck_tapers": (18, "0a354622ef7c16b4"),
    "rings": (182, "cf7655a9ce3f92bc"),
    "ring_ratings": (305, "0867877c7d0ae970"),
    "ring_relations": (17, "cdc9bc2cabd14779"),
    "iso281_factors": (17, "64c26577ecf42065"),
    "iso281_constants": (30, "2bb48388416f423b"),
    "iso492_inner": (18, "a130a34f1c16d9b0"),
    "iso492_outer": (15, "925239d850eb4098"),
    "iso492_taper_roller": (6, "5b140bb7203a96c4"),
    "iso5753": (18, "786f74e6a0cd7f7b"),
    "ring_shoulders": (11, "f3fb37167232a1ba"),
    "ring_undercuts": (4, "ddcc60b65a884923"),
    "duplex_preload": (16, "2b361024d053a485"),
    "iso286": (202, "041b4f4cc94c1780"),
    "iso286_grades": (90, "d07e8310c7b3613b"),
    "threads": (118, "ec814c8504750bb9"),
    "cap_screws": (11, "31da8a9cc263e18b"),
    "cap_screw_lengths": (18, "b40b2d86ce8b8378"),
    "clearance_holes": (7, "524cdf23af99c98e"),
    "counterbores": (7, "51823b3d3ad6b5d7"),
    "washers": (18, "de6c4b54194862b8"),
    "shims": (40, "b2d7a6561689024b"),
    "shim_thicknesses": (16, "ee1518f103cc5825"),
    "circlips_outside": (35, "968cbe3f8fad2c4a"),
    "circlips_inside": (39, "64f7287340d6842a"),
    "centre_holes": (33, "ba21fd1cf45634e8"),
    "centre_drills": (11, "b32b310486de73c7"),
    "centre_hole_choice": (9, "b26dffc5780ca668"),
    "dies": (21, "b7bb93bd8b1634ae"),
    "hex_keys": (20, "353a8297821de3ce"),
    "hex_keys_older": (12, "f65297e6e2ad9c58"),
    "keys_and_tools": (71, "fc57fcf00b9a4196"),
    "bars": (92, "ab67aa86217c758c"),
    "bar_rules": (44, "bdf0215c76fed127"),
    "general_tolerances": (27, "ab588c45ead999ce"),
    "general_tolerances_edges": (12, "12e8b410a70f4fab"),
    "general_tolerances_angles": (20, "19c0e4103eb2bd0b"),
    "machines": (119, "b4b6a6b1f7ef7350"),
    "materials": (37, "443e9fa54a136137"),
    "friction": (8, "72c88ccb16710ffa"),
    "kienzle": (46, "00cf39010aea0547"),
    "cutting_force_by_feed": (48, "918cbeecd6868f78"),
    "cutting_force_simple": (5, "92d1c5f9b761fc25"),
    "cutting_speeds": (56, "ab7d306cde110cec"),
    "feeds": (25, "7212c3c343ef9f54"),
    "drills": (104, "dda90200e398a83a"),
    "drills_inch": (46, "e9a1f9f7cddcf208"),
    "drill_rules": (14, "8393c245dee52704"),
    "boring_bars": (26, "6135d8ff08b84cd0"),
    "boring_rules": (19, "640eff82aa22498e"),
    "holders": (35, "c9c7c90f20c91ce6"),
    "tool_posts": (103, "8a8aaa8e2675f2ab"),
    "retaining": (5, "43998d16f900fa8f"),
    "retaining_rules": (24, "9ba0625fc9067d15"),
    "thread_reliefs": (14, "0e5f0238ee2c0681"),
    "undercuts": (8, "7d4d0bddb2911eee"),
    "balls": (27, "bd1867a8d5b23758"),
}


def test_every_table_is_frozen() -> None:
    assert set(FROZEN) == set(INDEX)


@pytest.mark.parametrize("name", INDEX)
def test_row_count_and_checksum(name: str) -> None:
    text = (FOLDER / f"{name}.csv").read_text(encoding="utf-8")
    digest = hashlib.sha256(text.encode()).hexdigest()[:16]
    assert (len(load(name).rows), digest) == FROZEN[name]
