"""Each command in-process: what it prints, its exit code, and one clear line for whatever goes wrong."""

import errno
import io
import json
import os
import re
import shlex
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

import templates
from generator import cli, tables
from generator.cli import run
from generator.commands import line
from generator.job.reader import read_job
from generator.kinds import use_templates
from tests.unit.tiny_kind import JOB, write_tiny

ROOT = Path(__file__).parents[2]


@pytest.fixture(autouse=True)
def _place(monkeypatch, tmp_path, tmp_path_factory):
    """Stand in an empty folder, with the tiny kind known."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path_factory.mktemp("config")))
    monkeypatch.setenv(templates.FOLDER_VARIABLE, str(write_tiny(tmp_path_factory.mktemp("templates"))))
    monkeypatch.setenv("COLUMNS", "100")
    monkeypatch.chdir(tmp_path)
    use_templates()
    yield
    templates.use_folders(())


def write(text=JOB, name="job.toml"):
    Path(name).write_text(text, encoding="utf-8")
    return name


def tell(capsys, *words):
    """Exit code, standard output, standard error of one command."""
    code = run([str(word) for word in words])
    told = capsys.readouterr()
    return code, told.out, told.err


def files_here():
    return sorted(str(path) for path in Path().rglob("*"))


# --- list ---


def test_list_has_one_line_for_each_kind(capsys):
    code, out, err = tell(capsys, "list")
    assert (code, err) == (0, "")
    assert "revolving-centre  Revolving centre." in out
    assert "tiny              Plug. A head on a taper." in out


def test_list_survives_a_broken_template(capsys, tmp_path):
    folder = write_tiny(tmp_path / "mine", "fine")
    (folder / "broken.py").write_text("1 / 0")
    code, out, _ = tell(capsys, "list", "--templates", folder)
    assert code == 0
    assert "cannot be loaded: ZeroDivisionError: division by zero (line 1)" in " ".join(out.split())
    code, out, _ = tell(capsys, "list", "--templates", folder, "--json")
    problems = {line["kind"]: bool(line["problem"]) for line in json.loads(out)}
    assert problems["broken"]
    assert not problems["fine"]


# --- new ---


@pytest.mark.parametrize("units", ["mm", "in"])
def test_new_writes_a_job_that_check_accepts(units, capsys):
    code, out, err = tell(capsys, "new", "revolving-centre", "My centre.toml", "--units", units)
    assert (code, err) == (0, "")
    words = shlex.split(out.partition("next: ")[2])
    assert words == ["tailstock", "check", "My centre.toml"]
    job = read_job(Path("My centre.toml"))
    assert (job.name, job.unit) == ("My-centre", units)
    assert tell(capsys, "check", "My centre.toml")[0] == 0


def test_new_like_takes_over_what_was_given(capsys):
    write(JOB + "length = 17\n")
    assert tell(capsys, "new", "tiny", "b.toml", "--like", "job.toml")[0] == 0
    assert "\nlength = 17\n" in Path("b.toml").read_text()
    code, out, _ = tell(capsys, "new", "tiny", "c.toml", "--like", "demo")
    assert code == 0
    left = "socket.ejector_nose_diameter, socket.quill_face_diameter, passes, bar.length, loads"
    assert f"left out, unknown to this kind: {left}\n" in out


def test_new_shop_and_its_use(capsys):
    assert tell(capsys, "new", "shop", "shop.toml", "--units", "in")[0] == 0
    text = Path("shop.toml").read_text()
    text, count = re.subn(r"(?m)^# ejector_depth = .*$", "ejector_depth = 3.0", text)
    assert count == 1
    Path("shop.toml").write_text(text)
    write()
    code, out, _ = tell(capsys, "check", "job.toml", "--shop", "shop.toml", "--json")
    data = json.loads(out)
    assert code == 0
    assert data["from_shop"] == ["socket.ejector_depth"]
    depth = next(row for row in data["parameters"] if row["address"] == "socket.ejector_depth")
    assert (depth["value"], depth["is_default"]) == (76.2, False)


def test_new_never_overwrites(capsys):
    write("mine")
    Path("folder").mkdir()
    for words in (("tiny", "job.toml"), ("shop", "job.toml"), ("tiny", "folder")):
        code, out, err = tell(capsys, "new", *words)
        assert (code, out) == (2, "")
        assert "there is a" in err
    assert Path("job.toml").read_text() == "mine"


def test_new_leaves_no_file_behind_when_it_fails(capsys, monkeypatch):
    write(JOB.replace("30", "20"))
    for words in (("nothing", "x.toml"), ("../x", "x.toml"), ("tiny", "no/folder/x.toml"),
                  ("tiny", "x.toml", "--like", "job.toml"), ("tiny", "x.toml", "--like", "none.toml"),
                  ("tiny", "x.toml", "--shop", "none.toml")):
        code, out, err = tell(capsys, "new", *words)
        assert (code, out) == (2, ""), words
        assert "tailstock: " in err
        assert "Traceback" not in err
    monkeypatch.setattr("generator.commands.new.new_shop", lambda _: "\ud800")
    assert tell(capsys, "new", "shop", "x.toml")[0] == 2
    assert files_here() == ["job.toml"]


def test_new_says_what_to_do_where_it_cannot_write(capsys, monkeypatch):
    write()
    assert "there is no folder no; make the folder first" in tell(capsys, "new", "shop", "no/x.toml")[2]
    assert "job.toml is a file, not a folder" in tell(capsys, "new", "shop", "job.toml/x.toml")[2]

    def refuse(path, *_, **__):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))

    monkeypatch.setattr(Path, "open", refuse)
    assert "you may not write into the folder .; give another folder" in tell(capsys, "new", "shop", "x.toml")[2]


# --- check ---


def test_check_prints_stops_first_with_value_limit_rule_and_change(capsys):
    write(JOB + "length = 45\n")
    code, out, err = tell(capsys, "check", "job.toml")
    assert (code, err) == (1, "")
    severities = [line.split()[0] for line in out.splitlines() if line.startswith(("STOP", "WARNING", "note"))]
    assert severities == sorted(severities, key=["STOP", "WARNING", "note"].index)
    first = out.split("\n\n")[1]
    assert first == (
        "STOP  head too long [head.length]\n    45 mm; wanted at most 40 mm\n    Shorten the head\n"
        "    source: shop choice\n    change: head.length = 40 mm"
    )
    summary = next(text for text in out.splitlines() if text.startswith("1 stop, 1 warning, "))
    assert out.splitlines()[1] == out.splitlines()[-1] == summary
    assert summary.endswith(": do not make it as it stands.")


def test_check_tells_notes_in_a_line_each_and_everything_on_request(capsys):
    write(JOB + "length = 45\n")
    brief, full = (tell(capsys, "check", "job.toml", *more)[1] for more in ((), ("--all",)))
    found = json.loads(tell(capsys, "check", "job.toml", "--json")[1])["findings"]
    notes = [finding for finding in found if finding["severity"] == "note"]
    assert len(notes) == sum(text.startswith("note  ") for text in brief.splitlines())
    assert all(f"note  {finding['title']}" in brief for finding in notes)
    assert "all their details" in brief
    assert "all their details" not in full
    loud = [block for block in full.split("\n\n") if block.startswith(("STOP", "WARNING"))]
    assert len(loud) == len(found) - len(notes)
    assert all(block in brief for block in loud)
    for finding in notes:
        assert finding["advice"][1:].split(";")[0] in " ".join(full.split())
    assert "source: " in full.partition("note  ")[2]
    assert "source: " not in brief.partition("note  ")[2]


def test_check_of_an_inch_job_tells_inches(capsys):
    write('kind = "tiny"\nname = "a"\nunits = "in"\n[head]\ndiameter = 1.5\nlength = 1.8\n')
    code, out, _ = tell(capsys, "check", "job.toml")
    assert code == 1
    assert "45.72 mm (1.8000 in); wanted at most 40 mm" in out
    assert "change: head.length = 1.5748 in (40 mm)" in out


def test_check_wraps_to_the_terminal(capsys, monkeypatch):
    write()
    for columns in ("60", "100"):
        monkeypatch.setenv("COLUMNS", columns)
        out = tell(capsys, "check", "job.toml")[1]
        assert max(map(len, out.splitlines())) <= int(columns)


def test_check_as_plain_data(capsys):
    write(JOB + "length = 45\n")
    code, out, err = tell(capsys, "check", "job.toml", "--json")
    data = json.loads(out)
    assert (code, err) == (1, "")
    assert (data["job"], data["may_be_made"], data["counts"]["stop"]) == ("plug-1", False, 1)
    assert data["findings"][0]["changes"] == [{"parameter": "head.length", "value": 40.0, "unit": "mm"}]


def test_the_shipped_demo_is_sound_and_a_file_of_its_name_is_reached_by_path(capsys):
    assert tell(capsys, "check", "demo")[0] == 0
    write(JOB, "demo")
    assert "Revolving centre" in tell(capsys, "check", "demo")[1]
    assert "Plug plug-1" in tell(capsys, "check", "./demo")[1]


@pytest.mark.parametrize("command", ["check", "make"])
@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("not toml", "the file is not TOML"),
        (JOB + "length = nan\n", "line 6, head.length: a length must be a finite number"),
        (JOB + "length = -1\n", "may not be below zero"),
        (JOB + "length = 1e9\n", "not credible"),
        (JOB + 'length = "' + "9" * 199_000 + '"\n', "at most 1000 characters"),
        (JOB + "#" * 200_001, "at most 200 kB"),
        (JOB + 'length = "9**9**9 mm"\n', "no unit of length"),
        (JOB + 'length = "1,5 mm"\n', "the decimal mark is a point"),
        (JOB + 'length = "2 kg"\n', "a mass stands where a length is wanted"),
        (JOB.replace('"tiny"', '"../tiny"'), "the name of a kind is small letters"),
        (JOB.replace('"tiny"', '"os.path"'), "the name of a kind is small letters"),
        (JOB.replace("plug-1", "../plug"), "letters, digits, - and _ only"),
        (JOB + "lenght = 1\n", "nearest known: length"),
    ],
)
def test_bad_input_is_told_clearly_and_leaves_nothing(command, text, words, capsys):
    write(text)
    code, out, err = tell(capsys, command, "job.toml")
    assert (code, out) == (2, "")
    assert words in err
    assert err.startswith("tailstock: job.toml: 1 fault\n")
    assert len(err) < 600
    assert files_here() == ["job.toml"]


@pytest.mark.parametrize("command", ["check", "make"])
def test_bad_input_as_plain_data(command, capsys):
    write(JOB + "lenght = 1\n[sheet]\nownr = 1\n")
    code, out, err = tell(capsys, command, "job.toml", "--json")
    assert (code, err) == (2, "")
    assert [(fault["line"], fault["place"]) for fault in json.loads(out)["faults"]] == [
        (6, "head.lenght"), (8, "sheet.ownr"),
    ]


def test_files_that_cannot_be_read_are_one_fault(capsys):
    for name, words in (("none.toml", "no such file"), (".", "a folder, not a file"), ("x" * 300, "cannot be read")):
        code, _, err = tell(capsys, "check", name)
        assert code == 2
        assert words in err


def test_a_name_without_its_ending_is_answered_with_the_file_beside_it(capsys):
    write(JOB, "my-centre.toml")
    code, _, err = tell(capsys, "check", "my-centre")
    assert (code, "my-centre.toml is there; give that name" in err) == (2, True)


def test_job_and_shop_files_in_each_others_place_are_recognised(capsys):
    write(JOB)
    write('[machine]\ntaper = "Morse 3"\n', "shop.toml")
    assert tell(capsys, "new", "shop", "skeleton.toml")[0] == 0
    for name in ("shop.toml", "skeleton.toml"):
        code, _, err = tell(capsys, "check", name)
        assert code == 2
        assert "looks like a shop file, not a job file; give a job file, and this one with --shop" in err
        assert err.count("\n") == 2
    code, _, err = tell(capsys, "check", "job.toml", "--shop", "job.toml")
    assert code == 2
    assert "looks like a job file, not a shop file (found kind 'tiny')" in err


@pytest.mark.parametrize(("units", "holder"), [("mm", "16"), ("in", '"16 mm"')])
def test_what_is_missing_is_told_with_lines_that_may_be_copied(units, holder, capsys):
    write(f'kind = "revolving-centre"\nname = "a"\nunits = "{units}"\n[passes]\ntip_ahead = 0.25\n')
    code, _, err = tell(capsys, "check", "job.toml")
    assert code == 2
    assert 'for example [socket] and below it taper = "Morse 3"' in err
    assert 'for example [[stack]] and below it ring = "6003-2RS"' in err
    assert f"for example holder_width = {holder}\n" in err


# --- make ---


def test_make_writes_into_outputs_by_the_jobs_name(capsys):
    write()
    code, out, err = tell(capsys, "make", "job.toml")
    assert (code, err) == (0, "")
    assert "outputs/plug-1: 9 files" in out
    assert Path("outputs/plug-1/plug-1.pdf").stat().st_size > 10_000
    again = tell(capsys, "make", "job.toml", "--json", "--out", "other")
    assert json.loads(again[1])["folder"] == "other"


def test_make_refuses_a_stop_and_writes_it_anyway(capsys):
    write(JOB + "length = 45\n")
    code, out, _ = tell(capsys, "make", "job.toml", "--out", "a")
    assert code == 1
    assert "STOP  head too long" in out
    assert "Nothing was written." in out
    assert files_here() == ["job.toml"]
    code, out, _ = tell(capsys, "make", "job.toml", "--out", "a", "--anyway")
    assert code == 1
    assert "a: 9 files" in out
    assert Path("a/record.json").exists()


def test_make_tells_progress_on_a_terminal_only(capsys, monkeypatch):
    write(JOB + "length = 45\n")
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    _, out, err = tell(capsys, "make", "job.toml")
    assert err.splitlines()[:2] == ["  solids begun in a second process", "  checks"]
    assert "solids" not in out


def test_make_will_not_take_a_users_folder(capsys):
    write()
    Path("mine").mkdir()
    Path("mine/letter.txt").write_text("dear")
    code, _, err = tell(capsys, "make", "job.toml", "--out", "mine")
    assert code == 2
    assert err == (
        "tailstock: mine: holds what this program did not make: letter.txt; move it, or give another --out\n"
    )


def test_a_folder_that_may_not_be_written_in_is_named_and_nothing_of_ours(capsys, monkeypatch):
    write()

    def refuse(path, *_, **__):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))

    monkeypatch.setattr("generator.swap.os.open", refuse)
    code, _, err = tell(capsys, "make", "job.toml", "--out", "a")
    assert code == 2
    assert f"Permission denied in the folder {Path.cwd()}; give --out a folder elsewhere" in err
    assert ".lock" not in err


# --- table ---


def test_table_lists_finds_and_refuses(capsys):
    code, out, _ = tell(capsys, "table")
    assert code == 0
    assert all(name in out for name in tables.names())
    code, out, _ = tell(capsys, "table", "morse", "MT3")
    # Source: ISO 296, Morse 3: gauge diameter 23.825 mm.
    assert code == 0
    assert "23.825" in out
    assert "source: ISO 296" in out
    assert json.loads(tell(capsys, "table", "iso286", "h6", "--json")[1])
    for words in (("mors",), ("morse", "MT9")):
        code, out, err = tell(capsys, "table", *words)
        assert (code, out) == (2, "")
        assert "nearest known" in err


# --- the command line itself ---


@pytest.mark.parametrize("words", [(), ("nothing",), ("check",), ("new", "tiny"), ("make", "a", "--units", "ft")])
def test_a_wrong_command_line_is_told_with_the_usage(words, capsys):
    code, out, err = tell(capsys, *words)
    assert (code, out) == (2, "")
    assert err.startswith("usage: tailstock")


@pytest.mark.parametrize("command", ["list", "new", "check", "make", "table"])
def test_every_command_has_help(command, capsys):
    code, out, _ = tell(capsys, command, "--help")
    assert code == 0
    assert f"usage: tailstock {command}" in out


def test_an_interrupt_is_one_line(capsys, monkeypatch):
    def interrupt(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(line, "_read", interrupt)
    code, _, err = tell(capsys, "check", "demo")
    assert (code, err) == (130, "tailstock: interrupted; nothing was written\n")


def test_a_fault_of_the_program_is_one_line_and_can_be_traced(capsys, monkeypatch):
    def fail(*_):
        return 1 / 0

    monkeypatch.setattr(line, "_read", fail)
    code, _, err = tell(capsys, "check", "demo")
    assert code == 2
    assert err.startswith("tailstock: a fault of this program, not of your input (ZeroDivisionError: division by zero)")
    assert err.count("\n") == 1
    monkeypatch.setenv(line.TRACE_VARIABLE, "1")
    with pytest.raises(ZeroDivisionError):
        run(["check", "demo"])


def _start(*words, **how):
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, (str(ROOT), os.environ.get("PYTHONPATH"))))}
    command = [sys.executable, "-m", "generator.cli", *words]
    return subprocess.Popen(command, env=environment, stderr=subprocess.PIPE, text=True, **how)


def test_a_reader_that_goes_away_is_no_error_to_look_at():
    with _start("table", "rings", "--json", stdout=subprocess.PIPE) as process:
        process.stdout.read(10)
        process.stdout.close()
        assert process.stderr.read() == ""
        assert process.wait(30) == line.PIPE_CLOSED


def test_an_interrupted_make_ends_quietly_and_leaves_nothing():
    write()
    with _start("make", "job.toml", stdout=subprocess.DEVNULL) as process:
        waited = time.monotonic() + 20
        while not Path("outputs").exists() and time.monotonic() < waited:
            time.sleep(0.01)
        process.send_signal(signal.SIGINT)
        assert process.stderr.read() == "tailstock: interrupted; nothing was written\n"
        # Where the signal met the interpreter within a library's exec of a text, it ends by that signal in the end:
        # a shell calls both 130.
        assert process.wait(30) in (cli.INTERRUPTED, -signal.SIGINT)
    assert files_here() == ["job.toml"]


def test_an_interrupt_while_the_program_is_still_loading_is_one_line():
    """The module that loads everything raises what Ctrl-C raises; then the same from a running process."""
    code = (
        "import sys\nclass Early:\n    def find_spec(self, name, *_):\n"
        "        if name == 'argparse':\n            raise KeyboardInterrupt\n"
        "sys.modules.pop('argparse', None)\nsys.meta_path.insert(0, Early())\n"
        "from generator.cli import run\nsys.exit(run(['table']))\n"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=False, timeout=30
    )
    assert (done.returncode, done.stderr) == (cli.INTERRUPTED, "tailstock: interrupted; nothing was written\n")


@pytest.mark.parametrize("failing", ["write", "flush"])
@pytest.mark.parametrize("words", [("table", "rings"), ("check", "demo", "--json"), ("list",)])
def test_a_full_disk_is_told_with_its_place(words, failing, capsys, monkeypatch):
    def fail(*_):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    full = io.StringIO()
    monkeypatch.setattr(full, failing, fail)
    monkeypatch.setattr(sys, "stdout", full)
    assert run(list(words)) == line.BAD
    assert capsys.readouterr().err == (
        "tailstock: standard output: cannot be written: No space left on device; make room, or send it somewhere else\n"
    )


def test_exit_codes_are_named(capsys):
    out = " ".join(tell(capsys, "--help")[1].split())
    assert f"{cli.INTERRUPTED} interrupted, {line.PIPE_CLOSED} whoever read the output went away" in out


def test_a_terminal_without_our_signs_is_no_crash():
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "ascii"}
    command = [sys.executable, "-m", "generator.cli", "table", "retaining_rules"]
    done = subprocess.run(command, env=environment, capture_output=True, check=False, timeout=30)
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.parametrize("words", [("list",), ("check", "demo"), ("new", "revolving-centre", "x.toml"), ("table",)])
def test_light_commands_load_nothing_heavy(words):
    """Only `make` may load what draws and models."""
    code = (
        "import sys\nfrom generator.cli import run\ncode = run(sys.argv[1:])\n"
        "heavy = {'cadquery', 'OCP', 'vtk', 'ezdxf', 'reportlab', 'matplotlib', 'numpy', 'fontTools'}\n"
        "print(sorted(heavy & set(sys.modules)), file=sys.stderr)\nsys.exit(code)\n"
    )
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-c", code, *words]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False, timeout=30)
    assert (done.returncode, done.stderr) == (0, "[]\n")
