"""How long a part's sheet takes to draw again, beside the library's own 25 default dimensions.

    python benchmarks/sheets.py [JOB]

Prints the median of seven warm runs for every made part of the job (the demo without one), the median over the sheets,
and the yardstick: 25 linear dimensions placed and rendered by ezdxf in a new document.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from generator.drawing.part_sheet import part_sheet  # noqa: E402
from generator.drawing.sheet import TitleBlock  # noqa: E402
from generator.job.design import work_out  # noqa: E402
from generator.job.reader import find_job, read_job  # noqa: E402

RUNS = 7
BLOCK = TitleBlock(
    "-", "-", "Part", "not issued", "1/1", "-", "-", "Part drawing", "-", "-", "-", "-", "ISO 2768-1 m",
    "Ra 3.2 unless shown", "ISO 13715: outside -0.3, inside +0.3",
)  # fmt: skip


def median_ms(work: Callable[[], object]) -> float:
    """Median time of some warm runs in milliseconds."""
    work()
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        times.append((time.perf_counter() - start) * 1e3)
    return statistics.median(times)


def yardstick() -> None:
    """25 default dimensions, rendered."""
    import ezdxf

    space = ezdxf.new("R2013", setup=True).modelspace()
    for i in range(25):
        space.add_linear_dim(base=(0, 10 + 7 * i), p1=(0, 0), p2=(20 + 3 * i, 0)).render()


def main() -> None:
    """Print one line for each sheet, their median, and the yardstick."""
    job = read_job(find_job(sys.argv[1] if len(sys.argv) > 1 else "demo"))
    found = []
    for part in work_out(job).tool.made:
        sheet = part_sheet(part, BLOCK)
        found.append(median_ms(lambda part=part: part_sheet(part, BLOCK)))  # type: ignore[misc]
        print(f"{part.name:20} {sheet.page:14} {sheet.scale:g}:1 {found[-1]:8.1f} ms")
    print(f"{'median of sheets':38} {statistics.median(found):8.1f} ms")
    print(f"{'25 default dimensions':38} {median_ms(yardstick):8.1f} ms")


if __name__ == "__main__":
    main()
