"""The fast subset of the checks over 100 000 candidates of the demo's centre at once.

    python benchmarks/many.py [HOW_MANY]

Rings of 12 to 20 mm bore from the table in any two sizes, overhang, spacer, barrel and duty drawn at random (fixed
seed); the sizes that follow from them are set as the template sets them. Prints the time of the checks, the peak of
resident memory of the whole process, and how many candidates pass each check.
"""

from __future__ import annotations

import resource
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

import numpy as np  # noqa: E402

from generator.checks.many import FAST, Candidates, RatedRing, check_many, vary  # noqa: E402
from generator.description import Choices  # noqa: E402
from generator.errors import TableError  # noqa: E402
from generator.fittings.access import passing_of  # noqa: E402
from generator.job.reader import find_job, read_job  # noqa: E402
from generator.reckoning.static import is_light  # noqa: E402
from generator.tables import Ring, RingRating, load, ring, ring_rating  # noqa: E402

BORES_MM = (12.0, 20.0)
SEED = 20261116
Array = Any


@dataclass(frozen=True)
class Drawn:
    """Rings front and rear by their place in the list, and what was drawn at random."""

    front: Array
    rear: Array
    overhang_mm: Array
    spacer_mm: Array
    wall_mm: Array
    radial_n: Array
    thrust_n: Array
    speed_rpm: Array


def main() -> int:
    """Print time, memory and what passes."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    job = read_job(find_job("demo"))
    kind, base = job.kind, job.kind.derive(job.params)
    rings = _rings()
    drawn = _draw(count, rings)
    start, worked = time.perf_counter(), time.process_time()
    choices = _choices(base, rings, drawn)
    found = check_many(kind, choices, _candidates(choices, rings, drawn))  # type: ignore[arg-type]
    passed = np.broadcast_to(found.all_pass, (count,))
    spent, used = time.perf_counter() - start, time.process_time() - worked
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    gaps = sum(name.startswith("gap ") for name in found.values)
    print(f"{count} candidates, {len(rings)} rings; checks: {', '.join(FAST)} ({gaps} gaps)")
    print(f"time {spent:.2f} s ({used:.2f} s of processor)   aim < 5 s on two cores")
    print(f"peak {peak_mb:.0f} MB   aim < 1000 MB")
    for name in FAST[1:]:
        print(f"  {name:<11} {np.broadcast_to(found.passes[name], (count,)).mean():6.1%} pass")
    print(f"  {'all':<11} {passed.mean():6.1%} pass")
    return 0


def _rings() -> list[tuple[Ring, RingRating]]:
    """Deep groove rings of these bores of which a maker's figures are known."""
    found = []
    for row in load("rings").rows:
        if row.text("type") == "deep groove" and BORES_MM[0] <= row.number("bore_mm") <= BORES_MM[1]:
            of = ring(f"{row.text('designation')}-2RS")
            try:
                rating = ring_rating(of)
            except TableError:
                continue
            if rating.f0 is not None:
                found.append((of, rating))
    return found


def _draw(count: int, rings: list[tuple[Ring, RingRating]]) -> Drawn:
    chance = np.random.default_rng(SEED)
    pair = np.sort(chance.integers(0, len(rings), (2, count)), axis=0)
    outside = np.array([of.outside_mm for of, _ in rings])
    larger = outside[pair[0]] >= outside[pair[1]]
    front, rear = np.where(larger, pair[0], pair[1]), np.where(larger, pair[1], pair[0])
    return Drawn(
        front, rear, chance.uniform(8, 40, count), chance.uniform(3, 30, count), chance.uniform(2, 8, count),
        chance.uniform(50, 600, count), chance.uniform(100, 1500, count), chance.uniform(200, 2500, count),
    )


def _choices(base: Choices, rings: list[tuple[Ring, RingRating]], drawn: Drawn) -> Choices:
    """The demo's sizes with those of the candidates; what follows is set as the template sets it."""
    sizes: dict[str, Array] = {}
    width = {}
    for index, of in ((1, drawn.front), (2, drawn.rear)):
        for name, value in (
            ("bore", "bore_mm"), ("outside", "outside_mm"), ("inner_width", "width_mm"), ("outer_width", "width_mm"),
            ("inner_land", "inner_land_mm"), ("outer_land", "outer_land_mm"), ("ball", "ball_diameter_mm"),
        ):  # fmt: skip
            sizes[f"ring_{index}/{name}"] = np.array([getattr(one, value) for one, _ in rings])[of]
        width[index] = sizes[f"ring_{index}/outer_width"]
        sizes[f"pocket_{index}/diameter"] = sizes[f"ring_{index}/outside"]
        sizes[f"seat_{index}/diameter"] = sizes[f"ring_{index}/bore"]
    stack = width[1] + drawn.spacer_mm + width[2]
    sizes |= {
        "spacer_1/length": drawn.spacer_mm, "pocket_1/depth": width[1] + 0.03, "pocket_2/depth": stack + 0.65,
        "seat_1/reach": width[1] - 0.55, "seat_2/reach": stack - 0.7, "spindle/overhang": drawn.overhang_mm,
        "body/cover_recess": sizes["ring_1/outside"] + 3.0, "cover/outside": sizes["ring_1/outside"] + 3.0,
        "body/barrel": sizes["ring_1/outside"] + 2 * drawn.wall_mm, "body/barrel_length": stack + 13.0,
        "body/floor_recess": sizes["ring_2/outer_land"] - 0.5, "washer/outside": sizes["ring_2/inner_land"] - 1.0,
        "cover/relief": sizes["ring_1/outer_land"] - 0.5,
    }  # fmt: skip
    return vary(base, sizes)


def _candidates(choices: Choices, rings: list[tuple[Ring, RingRating]], drawn: Drawn) -> Candidates:
    size = choices.sizes

    def rated(of: Array) -> RatedRing:
        rows = [(rating.dynamic_n, rating.static_n, rating.f0, is_light(one)) for one, rating in rings]
        dynamic, static, f0, light = (np.array(column)[of] for column in zip(*rows, strict=True))
        return RatedRing(dynamic, static, f0, light)

    cone = 8.0
    front_mm = size["ring_1/outer_width"].nominal_mm / 2
    span = front_mm + drawn.spacer_mm + size["ring_2/outer_width"].nominal_mm / 2
    barrel, recess = size["body/barrel"], size["body/cover_recess"]
    walls = (
        (barrel.low, size["pocket_1/diameter"].high), (barrel.low, recess.high),
        (size["seat_2/diameter"].low, size["tapped_hole/minor"].high),
    )  # fmt: skip
    obstacles = (
        (size["body/recess_depth"].nominal_mm, barrel.nominal_mm / 2),
        (size["spindle/collar_length"].nominal_mm, size["spindle/collar"].nominal_mm / 2),
    )  # fmt: skip
    return Candidates(
        arm_mm=drawn.overhang_mm + cone + front_mm, span_mm=span, spindle_mm=size["seat_1/diameter"].nominal_mm,
        radial_n=drawn.radial_n, worst_radial_n=1.5 * drawn.radial_n, thrust_n=drawn.thrust_n,
        speed_rpm=drawn.speed_rpm, front=rated(drawn.front), rear=rated(drawn.rear), wall_pairs=walls,
        obstacles=obstacles, face_mm=drawn.overhang_mm + cone, passing=passing_of(choices),
    )  # fmt: skip


if __name__ == "__main__":
    sys.exit(main())
