"""Ratios of the program against plain scripts, measured side by side in one run.

    python benchmarks/run.py

Wall time of whole processes, cold interpreter, warm disk; the two commands of a pair take turns, and the median of the
pairs' ratios is printed beside the aim. Nothing is asserted about time: a figure is a figure, the machine is named by
the yardstick beside it. Needs the packages of the extra `benchmark`, and Linux for the peak of memory.
"""

from __future__ import annotations

import contextlib
import gc
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "generator" / "job" / "demo.toml"
PAIRS = 5
ROUNDS = 25
HEAVY = ("cadquery", "OCP", "vtk", "vtkmodules", "ezdxf", "reportlab", "numpy")
TOOL = (sys.executable, "-m", "generator.cli")
SHORT = (
    ("table", "morse", "MT3"),
    ("reckon",),
    ("reckon", "fit", "ring=6204", "shaft=k5", "hole=J7"),
    ("reckon", "life", "ring=6208", "radial=2500 N", "axial=1000 N", "speed=900 rpm"),
    ("reckon", "reactions", "span=120 mm", "overhang=60 mm", "force=1000 N", "diameter=25 mm"),
)
CHECK = (*TOOL, "check", str(DEMO))

Command = Sequence[str]


class MissingError(Exception):
    """Something that a measurement needs is not there; the text says what."""


def main() -> int:
    """Print every figure; 1 if one could not be measured."""
    failed = 0
    for measure in (
        _imports_of_check, _check_against_import, _tables_and_reckonings_against_import, _many_candidates,
        _make_against_bare, _memory_of_make, _warm_picture,
    ):  # fmt: skip
        try:
            measure()
        except MissingError as missing:
            failed += 1
            print(f"NOT MEASURED  {measure.__name__.strip('_').replace('_', ' ')}: {missing}")
    return 1 if failed else 0


# -- whole processes


def _check_against_import() -> None:
    bare = (sys.executable, "-c", "import cadquery")
    _print_pairs("check demo", lambda _: CHECK, "import cadquery", lambda _: bare, "< 0.35")


def _tables_and_reckonings_against_import() -> None:
    """Print the same ratio for a table's row, the list of calculations, and calculations of several kinds."""
    bare = (sys.executable, "-c", "import cadquery")
    for words in SHORT:
        command = (*TOOL, *words)
        name = " ".join(words[:2])
        _print_pairs(name, lambda _, command=command: command, "import cadquery", lambda _: bare, "< 0.3")


def _many_candidates() -> None:
    """Print time and memory of the fast checks over many candidates, as their own script measures them."""
    command = (sys.executable, str(ROOT / "benchmarks" / "many.py"))
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    _demand_success(command, run.returncode, run.stdout + run.stderr)
    print("\n".join(run.stdout.splitlines()[:3]))


def _make_against_bare() -> None:
    script = str(ROOT / "benchmarks" / "bare_solid.py")
    _print_pairs(
        "make demo",
        lambda folder: (*TOOL, "make", str(DEMO), "--out", str(folder / "demo")),
        "bare solid with cadquery",
        lambda folder: (sys.executable, script, str(folder / "bare.step")),
        "< 1.6",
    )


def _print_pairs(
    ours: str, our_command: Callable[[Path], Command], theirs: str, their_command: Callable[[Path], Command], aim: str
) -> None:
    """Run both in turns, the first pair uncounted, and print the medians and the median ratio."""
    pairs = []
    for _ in range(PAIRS + 1):
        with tempfile.TemporaryDirectory() as folder:
            pairs.append((_wall_s(our_command(Path(folder))), _wall_s(their_command(Path(folder)))))
    counted = pairs[1:]
    ratios = [a / b for a, b in counted]
    a_s, b_s = (statistics.median(column) for column in zip(*counted, strict=True))
    print(f"{ours:<12} {a_s:6.2f} s   {theirs} {b_s:.2f} s   ratio {statistics.median(ratios):.3f}", end=" ")
    print(f"({min(ratios):.3f} to {max(ratios):.3f})   aim {aim}")


def _wall_s(command: Command) -> float:
    start = time.perf_counter()
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    spent = time.perf_counter() - start
    _demand_success(command, run.returncode, run.stdout + run.stderr)
    return spent


def _demand_success(command: Command, code: int, said: str) -> None:
    """Refuse to measure a command that failed."""
    if code != 0:
        last = said.strip().splitlines()[-1] if said.strip() else "it said nothing"
        message = f"`{' '.join(command[1:])}` left with code {code}: {last}"
        raise MissingError(message)


def _imports_of_check() -> None:
    """Print which of the heavy packages `check` loaded, by the interpreter's own list of imports."""
    command = (sys.executable, "-X", "importtime", *CHECK[1:])
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    listed = [line.rsplit("|", 1)[-1].strip() for line in run.stderr.splitlines() if line.startswith("import time:")]
    _demand_success(command, run.returncode, run.stdout)
    loaded = sorted({name.split(".")[0] for name in listed} & set(HEAVY))
    print(f"check demo imports {len(listed)} modules; of {', '.join(HEAVY)}: {', '.join(loaded) or 'none'}   aim none")


# -- memory


def _memory_of_make() -> None:
    """Print the peak of resident memory, summed over `make` and all its children (shared pages counted in each)."""
    if not Path("/proc/self/statm").exists():
        message = "the peak of memory is read from /proc, which this system has not"
        raise MissingError(message)
    with tempfile.TemporaryDirectory() as folder, tempfile.TemporaryFile("w+") as said:
        command = (*TOOL, "make", str(DEMO), "--out", str(Path(folder) / "demo"))
        process = subprocess.Popen(command, cwd=ROOT, stdout=said, stderr=subprocess.STDOUT)
        peak_mb, count = 0.0, 0
        while process.poll() is None:
            family = list(_family(process.pid))
            peak_mb, count = max(peak_mb, sum(map(_resident_mb, family))), max(count, len(family))
            time.sleep(0.005)
        said.seek(0)
        _demand_success(command, process.returncode, said.read())
    print(f"make demo    peak {peak_mb:.0f} MB in {count} processes   aim < 900 MB")


def _family(process_id: int) -> Iterator[int]:
    """A process and all that descend from it."""
    yield process_id
    with contextlib.suppress(OSError):
        for task in Path(f"/proc/{process_id}/task").iterdir():
            for child in (task / "children").read_text().split():
                yield from _family(int(child))


def _resident_mb(process_id: int) -> float:
    """Resident memory, 0 for a process that has just ended."""
    try:
        pages = int(Path(f"/proc/{process_id}/statm").read_text().split()[1])
    except (OSError, IndexError):
        return 0.0
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


# -- warm, in this process


def _warm_picture() -> None:
    """Print the time from job text to findings and picture, beside 25 dimensions drawn by ezdxf with its defaults."""
    sys.path.insert(0, str(ROOT))
    try:
        from generator.errors import GeneratorError

        picture, yardstick = _picture_of_demo(), _default_dimensions()
    except ImportError as missing:
        message = f"cannot import it ({missing})"
        raise MissingError(message) from missing
    try:
        for _ in range(3):
            picture()
            yardstick()
    except GeneratorError as problem:
        message = f"the demo cannot be drawn ({problem})"
        raise MissingError(message) from problem
    spent: list[tuple[float, float]] = []
    for _ in range(ROUNDS):
        spent.append((_spent_ms(picture), _spent_ms(yardstick)))
    ours, theirs = zip(*spent, strict=True)
    print(f"description, findings and arrangement SVG, warm: median {statistics.median(ours):.1f} ms", end=" ")
    print(f"(slowest tenth {sorted(ours)[int(0.9 * ROUNDS)]:.1f} ms)   25 default ezdxf dimensions", end=" ")
    print(f"{statistics.median(theirs):.1f} ms   aim < 50 ms")


def _spent_ms(work: Callable[[], object]) -> float:
    gc.collect()
    start = time.perf_counter()
    work()
    return 1e3 * (time.perf_counter() - start)


def _picture_of_demo() -> Callable[[], str]:
    """A function that takes the demo's text to its SVG picture."""
    from generator.drawing.arrangement import arrangement_picture
    from generator.ink import read_ink
    from generator.job.design import inspect, work_out
    from generator.job.reader import read_job
    from generator.prints.svg import svg_text

    text = DEMO.read_text(encoding="utf-8")

    def picture() -> str:
        design = inspect(work_out(read_job(text)))
        document = arrangement_picture(design.tool)
        (left, bottom, _), (right, top, _) = document.header["$EXTMIN"], document.header["$EXTMAX"]
        return svg_text(read_ink(document, extents=(left, bottom, right, top)))

    return picture


def _default_dimensions() -> Callable[[], object]:
    """A function that draws 25 dimensions the way the DXF library does it by itself."""
    import ezdxf

    def dimensions() -> object:
        document = ezdxf.new(setup=True)
        space = document.modelspace()
        for index in range(25):
            base = (0.0, 10.0 * (index + 1))
            space.add_linear_dim(base=base, p1=(0.0, 0.0), p2=(20.0 + index, 0.0)).render()
        return document

    return dimensions


if __name__ == "__main__":
    sys.exit(main())
