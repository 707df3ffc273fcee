"""Kinds are found by file name, named by pattern before any import, and one broken template harms no other."""

import sys
from pathlib import Path

import pytest

import templates
from generator.errors import InputError
from generator.kinds import kinds, load_kind, survey, use_templates
from tests.unit.tiny_kind import TINY, write_tiny


@pytest.fixture(autouse=True)
def _clean(monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.delenv(templates.FOLDER_VARIABLE, raising=False)
    yield
    templates.use_folders(())


@pytest.fixture
def folder(tmp_path) -> Path:
    return write_tiny(tmp_path / "mine")


def test_shipped_kinds_are_found_without_importing_them():
    for name in [name for name in sys.modules if name.startswith("templates.")]:
        del sys.modules[name]
    use_templates()
    names = kinds()
    assert "revolving-centre" in names
    assert names == sorted(names)
    assert not [name for name in sys.modules if name.startswith("templates.")]


def test_every_shipped_file_is_a_kind_that_loads():
    use_templates()
    here = Path(templates.__file__).parent
    files = sorted(path.stem.replace("_", "-") for path in here.glob("*.py") if not path.stem.startswith("_"))
    assert kinds() == files
    assert [line.problem for line in survey()] == [""] * len(files)


@pytest.mark.parametrize(
    "name",
    ["../x", "os.path", "os", "", ".", "_orders", "-orders", "Tiny", "tiny.py", "tiny/", "tiny\n", "a" * 42, "tiny\0",
     "__init__", "templates.tiny", "ä", 3, None, ["tiny"]],
)
def test_names_that_are_no_kind_are_refused_before_any_import(name, folder, monkeypatch):
    use_templates(folder)
    monkeypatch.setattr("importlib.import_module", lambda *_: pytest.fail("something was imported"))
    with pytest.raises(InputError) as caught:
        load_kind(name)
    assert caught.value.faults[0].place == "kind"
    assert "tiny" in caught.value.faults[0].cure


def test_nearest_kinds_are_named():
    use_templates()
    with pytest.raises(InputError, match="nearest known: revolving-centre"):
        load_kind("revolving-center")


@pytest.mark.parametrize("way", ["option", "variable", "configuration"])
def test_a_users_folder_adds_kinds(way, folder, monkeypatch, tmp_path):
    if way == "variable":
        monkeypatch.setenv(templates.FOLDER_VARIABLE, str(folder))
    if way == "configuration":
        target = tmp_path / "config" / "tailstock" / "templates"
        target.parent.mkdir(parents=True)
        folder.rename(target)
    use_templates(folder if way == "option" else None)
    assert "tiny" in kinds()
    assert load_kind("tiny").TITLE == "Plug"


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(InputError, match="there is no such folder"):
        use_templates(tmp_path / "none")


def test_a_second_template_of_a_name_is_refused_with_both_files(folder):
    (folder / "revolving_centre.py").write_text(TINY)
    use_templates(folder)
    with pytest.raises(InputError, match="two templates have this name") as caught:
        load_kind("revolving-centre")
    assert str(folder / "revolving_centre.py") in str(caught.value)
    problem = {line.name: line.problem for line in survey()}["revolving-centre"]
    assert "two templates have this name" in problem


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("def (", "SyntaxError"),
        ("import no_such_module_at_all", "ModuleNotFoundError"),
        ("x = 1\ny = 1 / 0", r"ZeroDivisionError: division by zero \(line 2\)"),
        ("import sys\nsys.exit(3)", "SystemExit"),
        ("TITLE = 'x'", "lacks SUMMARY, Params"),
        (TINY.replace("class Params(JobBase)", "class Params"), "Params is not a class derived from JobBase"),
        (TINY.replace('TITLE = "Plug"', "TITLE = 3"), "TITLE is not a text"),
    ],
)
def test_a_broken_template_is_listed_with_the_reason_and_breaks_nothing(text, reason, folder):
    (folder / "broken.py").write_text(text)
    (folder / "Bad Name.py").write_text(TINY)
    use_templates(folder)
    lines = {line.name: line for line in survey()}
    with pytest.raises(InputError, match=f"cannot be loaded: .*{reason}"):
        load_kind("broken")
    assert lines["broken"].problem
    assert "file name" in lines["Bad Name"].problem
    assert not lines["tiny"].problem
    assert "broken" in kinds()
    assert "Bad Name" not in kinds()


def test_a_folder_given_later_replaces_the_earlier_one(folder, tmp_path):
    use_templates(folder)
    first = load_kind("tiny")
    second_folder = write_tiny(tmp_path / "other")
    (second_folder / "tiny.py").write_text(TINY.replace('TITLE = "Plug"', 'TITLE = "Bung"'))
    use_templates(second_folder)
    assert first.TITLE == "Plug"
    assert load_kind("tiny").TITLE == "Bung"
    use_templates()
    assert "tiny" not in kinds()
