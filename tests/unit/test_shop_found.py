"""Which shop file serves: beside the job, in the configuration folder, named or left out; and that it is told."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import templates
from generator.cli import run
from generator.job.shop_place import find_shop, standing_shop
from generator.kinds import use_templates
from tests.unit.tiny_kind import JOB, write_tiny


@pytest.fixture(autouse=True)
def _place(monkeypatch, tmp_path, tmp_path_factory):
    """Stand in an empty folder, with the tiny kind known and no shop file anywhere."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path_factory.mktemp("config")))
    monkeypatch.setenv(templates.FOLDER_VARIABLE, str(write_tiny(tmp_path_factory.mktemp("templates"))))
    monkeypatch.setenv("COLUMNS", "200")
    monkeypatch.chdir(tmp_path)
    use_templates()
    yield
    templates.use_folders(())


def test_beside_the_job_goes_before_the_configuration_folder():
    job = Path("work") / "job.toml"
    job.parent.mkdir()
    assert find_shop(job) is None
    standing_shop().parent.mkdir(parents=True)
    standing_shop().write_text("[machine]\nquill_travel = 71\n")
    found = find_shop(job)
    assert (found.shop.machine.quill_travel, found.found) == (71.0, "in the configuration folder")
    assert found.source == str(standing_shop())
    assert find_shop() == found
    (job.parent / "shop.toml").write_text("[machine]\nquill_travel = 72\n")
    found = find_shop(job)
    assert (found.shop.machine.quill_travel, found.found) == (72.0, "beside the job")
    assert find_shop().shop.machine.quill_travel == 71.0
    # A folder of that name is no shop file.
    (job.parent / "shop.toml").unlink()
    (job.parent / "shop.toml").mkdir()
    assert find_shop(job).shop.machine.quill_travel == 71.0


def told(capsys, *words):
    code = run(list(words))
    out, err = capsys.readouterr()
    return code, out, err


def test_check_and_make_tell_which_shop_file_serves(capsys):
    Path("job.toml").write_text(JOB)
    assert "shop file" not in told(capsys, "check", "job.toml")[1]
    Path("shop.toml").write_text('[machine]\nejector_depth = 70\n[sheet]\nowner = "Me"\n')
    line = "shop file: shop.toml, beside the job; into the job: sheet.owner, socket.ejector_depth\n"
    assert line in told(capsys, "check", "job.toml")[1]
    code, out, _ = told(capsys, "check", "job.toml", "--json")
    data = json.loads(out)
    assert (code, data["shop"]) == (0, {"file": "shop.toml", "found": "beside the job"})
    code, out, _ = told(capsys, "make", "job.toml")
    assert (code, line in out) == (0, True)
    record = json.loads(Path("outputs/plug-1/record.json").read_text())
    assert (record["shop"]["file"], record["shop"]["found"]) == ("shop.toml", "beside the job")
    assert record["workshop"]["quill_travel_mm"] == 90.0
    assert "quill_travel_mm" in record["workshop"]["defaults"]


def test_it_can_be_left_out_or_named(capsys):
    Path("job.toml").write_text(JOB)
    Path("shop.toml").write_text("[machine]\nejector_depth = 70\n")
    Path("other.toml").write_text("[machine]\nejector_depth = 71\n")
    data = json.loads(told(capsys, "check", "job.toml", "--json", "--no-shop")[1])
    assert (data["shop"], data["from_shop"]) == (None, [])
    data = json.loads(told(capsys, "check", "job.toml", "--json", "--shop", "other.toml")[1])
    assert data["shop"] == {"file": "other.toml", "found": ""}
    code, _, err = told(capsys, "check", "job.toml", "--shop", "other.toml", "--no-shop")
    assert (code, "not allowed with" in err) == (2, True)


def test_faults_of_the_one_that_was_found_name_its_place(capsys):
    Path("job.toml").write_text(JOB)
    standing_shop().parent.mkdir(parents=True)
    standing_shop().write_text("[machine]\nquil_travel = 71\n")
    for words in (("check", "job.toml"), ("table", "rings", "6003"), ("reckon",), ("new", "tiny", "b.toml")):
        code, out, err = told(capsys, *words)
        assert (code, out) == (2, "")
        assert f"{standing_shop()}: 1 fault\n  line 2, machine.quil_travel: there is no such key here" in err
    assert not Path("b.toml").exists()
    assert told(capsys, "table", "rings", "6003", "--no-shop")[0] == 0
    standing_shop().write_text(JOB)
    code, _, err = told(capsys, "check", "job.toml")
    assert "looks like a job file, not a shop file" in err
    assert "--no-shop" in err


def test_a_shop_in_the_place_of_a_job_is_told_so_and_not_read_twice(capsys):
    Path("shop.toml").write_text("[dials]\ntop_division = 0.025\ntop_turn = 2.5\n")
    code, _, err = told(capsys, "check", "shop.toml")
    assert (code, "looks like a shop file, not a job file" in err) == (2, True)


def test_a_bearing_of_the_standing_shop_serves_table_and_reckon(capsys):
    standing_shop().parent.mkdir(parents=True)
    standing_shop().write_text('[[ring]]\nring = "drawer B"\nbore = 14\noutside = 32\nwidth = 10\n')
    code, out, _ = told(capsys, "table", "rings", "drawer B", "--json")
    assert (code, json.loads(out)[0]["bore_mm"]) == (0, 14.0)
    assert told(capsys, "table", "rings", "drawer B", "--no-shop")[0] == 2


def test_new_tells_how_the_shop_file_is_found(capsys):
    assert "it serves every job beside it" in told(capsys, "new", "shop", "shop.toml")[1]
    Path("shop.toml").write_text("[machine]\nejector_depth = 70\n")
    code, out, _ = told(capsys, "new", "tiny", "job.toml")
    assert (code, "shop file: shop.toml, beside the job\n" in out) == (0, True)
    assert "ejector_depth = 70.0   # from the shop file" in Path("job.toml").read_text()
    assert "give it with --shop bench.toml, or call it shop.toml" in told(capsys, "new", "shop", "bench.toml")[1]
