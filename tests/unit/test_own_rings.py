"""A ring from the drawer serves wherever a table's ring does: table, reckon, check. Invented ring."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator import tables
from generator.cli import run
from generator.commands.report import design_data
from generator.errors import InputError, TableError
from generator.job.design import advised, inspect, work_out
from generator.job.reader import read_job
from generator.job.shop import read_shop
from generator.tables import use_own_rings

SHOP = """
[[ring]]
ring = "drawer A"
bore = 16
outside = 36
width = 11
inner_land = 21.5
outer_land = 30.5
dynamic_capacity = "5.2 kN"
static_capacity = "2.6 kN"
"""
JOB = """
kind = "revolving-centre"
name = "own-ring"
[socket]
taper = "Morse 3"
[passes]
holder_width = 16
tip_ahead = 6
work_diameter = 22
[[stack]]
ring = "drawer A"
[[stack]]
ring = "6001-2RS"
"""


@pytest.fixture(autouse=True)
def _no_standing_shop(monkeypatch, tmp_path_factory):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path_factory.mktemp("config")))


@pytest.fixture
def shop(tmp_path):
    path = tmp_path / "shop.toml"
    path.write_text(SHOP)
    return str(path)


def test_table_shows_it_with_its_source(shop, capsys):
    assert run(["table", "rings", "drawer A", "--shop", shop, "--json"]) == 0
    (row,) = json.loads(capsys.readouterr().out)
    assert row["bore_mm"] == 16.0
    assert row["source"] == "own measurement (shop file)"


def test_reckon_takes_its_capacities(shop, capsys):
    assert run(["reckon", "life", "ring=drawer A", "radial=520 N", "speed=1000 rpm", "--shop", shop, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["results"]
    # (5200 / 520)^3 = 1000 million revolutions (ISO 281, ball exponent 3)
    assert found["life_mrev"]["value"] == pytest.approx(1000.0, rel=1e-9)


def test_check_builds_with_it(shop, tmp_path, capsys):
    job = tmp_path / "job.toml"
    job.write_text(JOB)
    assert run(["check", str(job), "--shop", shop, "--json"]) == 0
    assert "drawer A" in capsys.readouterr().out


def test_without_the_shop_file_it_is_not_known(tmp_path, capsys):
    job = tmp_path / "job.toml"
    job.write_text(JOB)
    assert run(["check", str(job)]) == 2
    assert "no ring 'drawer A' is known" in capsys.readouterr().err
    with pytest.raises(TableError, match="drawer A"):
        tables.ring("drawer A")


def test_measured_lands_count_and_missing_ones_are_estimated():
    with use_own_rings([tables.OwnRing("a", 16.0, 36.0, 11.0, inner_land_mm=21.5, outer_land_mm=30.5)]):
        assert tables.ring("A").land_confidence == "measured"
        assert tables.ring("a").inner_land_max_mm == pytest.approx(21.6)
    with use_own_rings([tables.OwnRing("b", 16.0, 36.0, 11.0)]):
        assert tables.ring("b").land_confidence == "estimated"
        with pytest.raises(TableError, match="'a'"):
            tables.ring("a")


def test_the_library_gives_what_the_command_line_gives(shop, tmp_path, capsys):
    path = tmp_path / "job.toml"
    path.write_text(JOB)
    assert run(["check", str(path), "--shop", shop, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    design = advised(inspect(work_out(read_job(path, shop=read_shop(Path(shop))))))
    assert [finding.title for finding in design.findings] == [row["title"] for row in told["findings"]]
    assert design_data(design)["parameters"] == told["parameters"]
    # Nothing of one job's drawer is left over for the next.
    with pytest.raises(InputError, match="no ring 'drawer A' is known"):
        work_out(read_job(path))


def test_two_shops_do_not_meet(tmp_path):
    job = read_job(JOB, shop=read_shop(SHOP))
    other = read_job(JOB, shop=read_shop(SHOP.replace("outside = 36", "outside = 37")))
    sizes = [work_out(one).choices.sizes for one in (job, other, job)]
    assert sizes[0] == sizes[2]
    assert sizes[0] != sizes[1]


def test_new_writes_a_job_with_it(shop, tmp_path, capsys):
    like = tmp_path / "job.toml"
    like.write_text(JOB)
    fresh = str(tmp_path / "fresh.toml")
    assert run(["new", "revolving-centre", fresh, "--like", str(like), "--shop", shop]) == 0, capsys.readouterr().err
    assert run(["check", fresh, "--shop", shop]) == 0


def test_a_ring_half_measured_is_refused(tmp_path, capsys):
    path = tmp_path / "shop.toml"
    path.write_text('[[ring]]\nring = "x"\nbore = 12\n')
    assert run(["table", "rings", "--shop", str(path)]) == 2
    assert "needs bore, outside and width" in capsys.readouterr().err
