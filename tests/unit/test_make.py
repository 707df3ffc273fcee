"""`make` writes everything or nothing, the same bytes for the same inputs, and never over what it did not make."""

import errno
import fcntl
import hashlib
import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import ezdxf
import pypdf
import pytest

import templates
from generator import make as make_module
from generator.errors import OutputError
from generator.job.reader import read_job
from generator.job.shop import read_shop
from generator.kinds import use_templates
from generator.make import make
from generator.record import RECORD, strangers
from generator.solid import worker
from generator.swap import replacing
from tests.unit.tiny_kind import JOB, write_tiny

ROOT = Path(__file__).parents[2]
STOPPED = JOB + "length = 45\n"
FILES = {
    "plug-1.step", "plug-1-plug.step", "plug-1.dxf", "plug-1-plug.dxf", "plug-1-plug-profile.dxf", "plug-1.pdf",
    "plug-1-inspection.csv",
    "plug-1.svg", RECORD,
}


@pytest.fixture(scope="module")
def kind_folder(tmp_path_factory):
    return write_tiny(tmp_path_factory.mktemp("templates"))


@pytest.fixture(autouse=True)
def _tiny(monkeypatch, tmp_path, kind_folder):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.delenv(templates.FOLDER_VARIABLE, raising=False)
    use_templates(kind_folder)
    yield
    templates.use_folders(())


@pytest.fixture(scope="module")
def finished(tmp_path_factory, kind_folder):
    """One whole result, to look at and to copy; never written to."""
    use_templates(kind_folder)
    folder = tmp_path_factory.mktemp("finished") / "out"
    make(read_job(JOB), folder)
    return folder


@pytest.fixture
def earlier(tmp_path, finished):
    """An earlier result in a folder of its own, with nothing beside it."""
    folder = tmp_path / "work" / "out"
    folder.mkdir(parents=True)
    for path in finished.iterdir():
        (folder / path.name).write_bytes(path.read_bytes())
    return folder


def contents(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def beside(folder):
    return sorted(path.name for path in folder.parent.iterdir())


def fail(problem):
    def failing(*_, **__):
        raise problem

    return failing


FULL = OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_everything_is_written_and_the_record_says_what_it_is(finished):
    assert {path.name for path in finished.iterdir()} == FILES
    record = json.loads((finished / RECORD).read_text(encoding="utf-8"))
    assert record["job"] == {"text": JOB, "sha256": hashlib.sha256(JOB.encode()).hexdigest()}
    assert set(record["files"]) == FILES - {RECORD}
    for name, digest in record["files"].items():
        assert hashlib.sha256((finished / name).read_bytes()).hexdigest() == digest
    assert record["shop"] is None
    assert {row["address"]: row["value"] for row in record["parameters"]}["head.diameter"] == 30.0
    assert {row["code"] for row in record["findings"]} >= {"gap", "not-checked"}
    chain = record["chains"]["stand_off"]
    # The socket and the gauge plane are one size here, so the barrel stands off by its own 5 mm, +-0.3 mm.
    assert chain["nominal_mm"] == pytest.approx(5.0)
    assert (chain["low_mm"], chain["high_mm"]) == (pytest.approx(4.7), pytest.approx(5.3))
    assert record["libraries"]["ezdxf"] == ezdxf.__version__
    assert str(Path.cwd()) not in json.dumps(record)


def test_what_is_written_can_be_read_back(finished):
    for name in FILES:
        if name.endswith(".dxf"):
            document = ezdxf.readfile(finished / name)
            assert not document.audit().errors
    # Source: ISO 10303-21, a file begins and ends with these words.
    step = (finished / "plug-1.step").read_text()
    assert step.startswith("ISO-10303-21;")
    assert step.rstrip().endswith("END-ISO-10303-21;")
    assert "1970-01-01T00:00:00" in step
    text = "".join(page.extract_text() for page in pypdf.PdfReader(finished / "plug-1.pdf").pages)
    assert "not issued" in text
    assert "NOT TO BE MADE" not in text
    assert (finished / "plug-1.svg").read_text(encoding="utf-8").rstrip().endswith("</svg>")


def test_the_same_inputs_give_the_same_bytes_in_another_process(finished, tmp_path, kind_folder):
    job = tmp_path / "job.toml"
    job.write_text(JOB)
    run = _in_process(tmp_path, "", "make", str(job), "--out", "again", "--templates", str(kind_folder))
    assert (run.returncode, run.stderr) == (0, "")
    again, before = contents(tmp_path / "again"), contents(finished)
    assert {name for name in FILES if again[name] != before[name]} == set()


def test_a_date_comes_from_the_job_alone(tmp_path):
    shop = read_shop('[sheet]\nowner = "Me"\n')
    made = make(read_job(JOB + "[sheet]\ndate = 2025-03-31\n", shop=shop), tmp_path / "out")
    assert "2025-03-31T00:00:00" in (made.folder / "plug-1.step").read_text()
    record = json.loads((made.folder / RECORD).read_text())
    assert record["shop"]["used"] == ["sheet.owner"]
    assert record["shop"]["text"] == shop.text


def test_a_stop_forbids_making_and_leaves_no_trace(tmp_path):
    made = make(read_job(STOPPED), tmp_path / "deep" / "out")
    assert made.folder is None
    assert made.design.stops == 1
    assert made.design.findings[0].changes[0].parameter == "head.length"
    assert list(tmp_path.iterdir()) == []


def test_a_stop_leaves_the_earlier_folder(earlier):
    before = contents(earlier)
    assert make(read_job(STOPPED), earlier).folder is None
    assert contents(earlier) == before
    assert beside(earlier) == ["out"]


def test_anyway_writes_and_marks_every_sheet(tmp_path):
    made = make(read_job(STOPPED), tmp_path / "out", anyway=True)
    assert set(made.files) == FILES
    for name in ("plug-1.dxf", "plug-1-plug.dxf"):
        assert "NOT TO BE MADE" in _words_of(made.folder / name)
    pages = pypdf.PdfReader(made.folder / "plug-1.pdf").pages
    assert all("NOT TO BE MADE" in page.extract_text().replace("\n", " ") for page in pages)
    assert "NOT TO BE MADE" in (made.folder / "plug-1.svg").read_text(encoding="utf-8")


def _words_of(path):
    document = ezdxf.readfile(path)
    layouts = [document.layout(name) for name in document.layout_names() if name != "Model"]
    texts = [entity for layout in layouts for entity in layout if entity.dxftype() in ("TEXT", "MTEXT")]
    return " ".join(t.plain_text() if t.dxftype() == "MTEXT" else t.dxf.text for t in texts)


@pytest.mark.parametrize("stage", ["_draw_sheets", "_read_back", "_write_plan", "record_text"])
def test_a_full_disk_half_way_leaves_the_earlier_folder(stage, earlier, monkeypatch):
    before = contents(earlier)
    monkeypatch.setattr(make_module, stage, fail(FULL))
    with pytest.raises(OutputError, match="No space left on device; what stood there before is untouched"):
        make(read_job(JOB), earlier)
    assert contents(earlier) == before
    assert beside(earlier) == ["out"]
    assert not ezdxf.options.write_fixed_meta_data_for_testing


@pytest.mark.parametrize("problem", [KeyboardInterrupt(), RuntimeError("a bug")])
def test_any_failure_half_way_leaves_the_earlier_folder(problem, earlier, monkeypatch):
    before = contents(earlier)
    monkeypatch.setattr(make_module, "_write_plan", fail(problem))
    with pytest.raises(type(problem)):
        make(read_job(JOB), earlier)
    assert contents(earlier) == before
    assert beside(earlier) == ["out"]


def test_solids_that_fail_leave_the_earlier_folder(earlier, monkeypatch):
    before = contents(earlier)
    monkeypatch.setattr(worker.Job, "result", fail(OutputError("the solids' process ended early")))
    with pytest.raises(OutputError, match="ended early"):
        make(read_job(JOB), earlier)
    assert contents(earlier) == before
    assert beside(earlier) == ["out"]


def _in_process(folder, before, *arguments):
    """Run the command line in a process of its own, some Python run first."""
    code = f"import sys\n{before}\nfrom generator.cli import run\nsys.exit(run(sys.argv[1:]))"
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH"))))}
    command = [sys.executable, "-c", code, *arguments]
    return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False, timeout=60)


KILL_ITSELF = "import os, signal, generator.make as m\nm._write_plan = lambda *_: os.kill(os.getpid(), signal.SIGKILL)"


def test_a_run_that_is_killed_leaves_the_earlier_folder_and_the_next_one_clears_up(earlier, kind_folder):
    before, work = contents(earlier), earlier.parent
    (work / "job.toml").write_text(JOB)
    words = ("make", "job.toml", "--out", "out", "--templates", str(kind_folder))
    killed = _in_process(work, KILL_ITSELF, *words)
    assert killed.returncode == -signal.SIGKILL
    assert contents(earlier) == before
    assert len(beside(earlier)) > 2
    assert _in_process(work, "", *words).returncode == 0
    assert beside(earlier) == ["job.toml", "out"]
    assert contents(earlier) == before


# The operating system itself refuses to let a file grow beyond this, as a full disk would.
SMALL_FILES = "import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, (30_000, 30_000))"


def test_a_write_refused_by_the_system_is_one_line_and_leaves_nothing(tmp_path, kind_folder):
    (tmp_path / "job.toml").write_text(JOB)
    run = _in_process(tmp_path, SMALL_FILES, "make", "job.toml", "--out", "a/b", "--templates", str(kind_folder))
    assert run.returncode == 2
    assert run.stderr.count("\n") == 1
    assert "a/b: cannot be written: File too large" in run.stderr
    assert [path.name for path in tmp_path.iterdir() if path.name != "config"] == ["job.toml"]


def test_a_run_killed_between_the_two_renames_is_put_right(earlier, monkeypatch):
    before = contents(earlier)
    earlier.rename(earlier.with_name(".out.old"))
    monkeypatch.setattr(make_module, "_write_plan", fail(FULL))
    with pytest.raises(OutputError, match="what stood there before is untouched"):
        make(read_job(JOB), earlier)
    assert contents(earlier) == before
    assert beside(earlier) == ["out"]


def test_a_rename_that_fails_puts_the_old_folder_back(earlier, monkeypatch):
    before = contents(earlier)
    real = Path.rename

    def rename(path, target):
        if ".new-" in path.name:
            raise PermissionError(errno.EACCES, "Permission denied", str(path))
        return real(path, target)

    monkeypatch.setattr(Path, "rename", rename)
    with pytest.raises(OutputError, match="Permission denied"), replacing(earlier, strangers) as fresh:
        (fresh / "a").write_text("new")
    assert contents(earlier) == before
    assert beside(earlier) == ["out"]


def test_leftovers_are_cleared_and_neighbours_left_alone(tmp_path):
    for name in (".out.new-0123abcd", ".out.new-other", ".outer.new-0123abcd", "out.new-0123abcd"):
        (tmp_path / name).mkdir()
    with replacing(tmp_path / "out", strangers) as fresh:
        (fresh / "a").write_text("new")
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        ".out.new-other", ".outer.new-0123abcd", "out", "out.new-0123abcd",
    ]


@pytest.mark.parametrize("case", ["file added", "file changed", "folder added", "no record", "record spoilt"])
def test_a_folder_with_something_of_the_users_is_never_replaced(case, earlier):
    if case == "file added":
        (earlier / "notes.txt").write_text("mine")
    elif case == "file changed":
        (earlier / "plug-1.dxf").write_text("mine now")
    elif case == "folder added":
        (earlier / "sub").mkdir()
    elif case == "no record":
        (earlier / RECORD).unlink()
    else:
        (earlier / RECORD).write_text("{")
    before = {path.name: path.is_file() and path.read_bytes() for path in earlier.iterdir()}
    with pytest.raises(OutputError, match="holds what this program did not make"):
        make(read_job(JOB), earlier)
    assert {path.name: path.is_file() and path.read_bytes() for path in earlier.iterdir()} == before
    assert beside(earlier) == ["out"]


def test_an_empty_folder_and_a_link_to_a_folder_may_be_used(tmp_path):
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    with replacing(tmp_path / "link", strangers) as fresh:
        (fresh / "a").write_text("new")
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "real" / "a").read_text() == "new"


def test_places_that_cannot_be_replaced_are_told(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("mine")
    (tmp_path / "inside").mkdir()
    monkeypatch.chdir(tmp_path / "inside")
    for target, words in (
        (tmp_path / "file", "this is a file, not a folder"),
        (Path(), "you stand in"),
        (tmp_path, "you stand in"),
        (tmp_path / "file" / "below", "cannot be written: Not a directory"),
        (Path("/proc/tailstock/out"), "cannot be written"),
    ):
        with pytest.raises(OutputError, match=words), replacing(target, strangers):
            pytest.fail("it went ahead")
    assert (tmp_path / "file").read_text() == "mine"


def test_two_runs_do_not_write_to_one_folder_at_once(tmp_path):
    with (tmp_path / ".out.lock").open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        with pytest.raises(OutputError, match="another run is writing there"), replacing(tmp_path / "out", strangers):
            pytest.fail("it went ahead")
    with replacing(tmp_path / "out", strangers):
        pass
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_progress_is_told_in_order(tmp_path):
    told = []
    make(read_job(JOB), tmp_path / "out", progress=told.append)
    assert told[0].startswith("solids begun")
    assert told[-1] == "record"
    assert "sheet of plug" in told
