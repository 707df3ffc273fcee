"""The rules every table file keeps, each broken once by a doctored copy."""

from __future__ import annotations

import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import pytest

import generator.tables
from generator.errors import GeneratorError, TableError
from generator.tables import load, loader, names, rows
from generator.tables.index import INDEX, Entry
from generator.tables.loader import Table, band, read_table

FOLDER = Path(generator.tables.__file__).parent
ENTRY = Entry("a doctored table", ("name",), frozenset({"depth_mm"}))
SOUND = "name,over_mm,incl_mm,depth_mm,note,source,confidence,check\nA,0,3,1.5,,book,high,\nB,3,6,,x,book,high,rising\n"


def doctor(folder: Path, text: str, entry: Entry = ENTRY) -> Table:
    path = folder / "doctored.csv"
    path.write_text(text, encoding="utf-8")
    return read_table(path, "doctored", entry)


def test_a_sound_table_is_read(tmp_path: Path) -> None:
    table = doctor(tmp_path, SOUND)
    assert [row.text("name") for row in table.rows] == ["A", "B"]
    assert table.find("A").number("depth_mm") == 1.5
    assert table.find("B").maybe("depth_mm") is None
    assert table.find("A").text("note") == ""
    with pytest.raises(TableError, match=r"doctored.csv, line 3, column depth_mm: no figure is known"):
        table.find("B").number("depth_mm")


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("A,0,3,1.5,,book,high,\n", "A,0,3,1.5,,book,high\n", r"doctored.csv, line 2: 7 cells where the header has 8"),
        ("A,0,3,1.5,,book,high,\n", "A,0,3,1.5,,book,high,,\n", r"doctored.csv, line 2: 9 cells"),
        ("B,3,6", "A,3,6", r"line 3, column name: the key 'A' stands already in doctored.csv, line 2"),
        ("B,3,6", ",3,6", r"line 3, column name: may not be empty"),
        ("1.5,,book", "1.5,,", r"line 2, column source: may not be empty \(found ''\)"),
        ("book,high,rising", "book,,rising", r"line 3, column confidence: may not be empty"),
        ("1.5", "1.5 mm", r"line 2, column depth_mm: not a number \(found '1.5 mm'\)"),
        ("1.5", "1,5", r"line 2: 9 cells"),
        ("1.5", "nan", r"line 2, column depth_mm: not a number \(found 'nan'\)"),
        ("1.5", "1e3", r"line 2, column depth_mm: not a number"),
        ("A,0,3", "A,,3", r"line 2, column over_mm: may not be empty"),
        ("source,confidence,check", "source,check,confidence", r"line 1: the last three columns must be source"),
        ("name,over_mm", "title,over_mm", r"line 1: columns missing or doubled: name"),
        ("name,over_mm,incl_mm", "name,over_mm,over_mm", r"line 1: columns missing or doubled"),
        ("A,0", 'A"x"y,"0', r"cannot be read|line 2"),
    ],
)
def test_an_unsound_table_is_refused_with_its_place(tmp_path: Path, old: str, new: str, message: str) -> None:
    assert old in SOUND
    with pytest.raises(TableError, match=message) as caught:
        doctor(tmp_path, SOUND.replace(old, new, 1))
    assert isinstance(caught.value, GeneratorError)


def test_files_that_are_empty_missing_or_no_text_are_refused(tmp_path: Path) -> None:
    with pytest.raises(TableError, match="last three columns"):
        doctor(tmp_path, "")
    with pytest.raises(TableError, match="no rows"):
        doctor(tmp_path, SOUND.splitlines()[0] + "\n")
    with pytest.raises(TableError, match="cannot be read"):
        read_table(tmp_path / "absent.csv", "absent", ENTRY)
    (tmp_path / "latin.csv").write_bytes(b"name,source,confidence,check\n\xe9,book,high,\n")
    with pytest.raises(TableError, match="cannot be read"):
        read_table(tmp_path / "latin.csv", "latin", Entry("x", ("name",)))


def test_the_band_rule(tmp_path: Path) -> None:
    table = doctor(tmp_path, SOUND)
    assert band(table, 3.0).text("name") == "A"
    assert band(table, 3.0000001).text("name") == "B"
    assert band(table, 6.0).text("name") == "B"
    for outside in (0.0, 6.01, -1.0, float("nan")):
        with pytest.raises(TableError, match="covers sizes over 0 up to and including 6 mm"):
            band(table, outside)


def test_every_table_of_the_index_is_sound_and_every_file_is_in_the_index() -> None:
    assert {path.stem for path in FOLDER.glob("*.csv")} == set(INDEX)
    for name, what in names().items():
        assert load(name).rows
        assert 10 < len(what) <= 110


@pytest.mark.parametrize("name", INDEX)
def test_no_row_says_what_the_sources_warned_against(name: str) -> None:
    for row in load(name).rows:
        assert row.confidence in {"high", "medium-high", "medium", "low", "from memory"}
        assert len(row.source) > 4


# Table undercuts is left out: DIN 509 offers two sizes in one range of diameters, a choice and not a band.
@pytest.mark.parametrize("name", [n for n in INDEX if "over_mm" in load(n).columns and n != "undercuts"])
def test_band_edges_touch(name: str) -> None:
    table = load(name)
    others = [key for key in table.keys if key != "over_mm"]
    groups: dict[tuple[str, ...], list[tuple[float, float]]] = {}
    for row in table.rows:
        key = tuple(row.text(column) for column in others)
        groups.setdefault(key, []).append((row.number("over_mm"), row.number("incl_mm")))
    for key, edges in groups.items():
        assert all(over < incl for over, incl in edges), key
        assert all(a[1] == b[0] for a, b in pairwise(edges)), key


def test_rows_from_memory_say_so() -> None:
    assert load("machines").rows[0].rests_on_memory
    assert load("morse").find("MT3").rests_on_memory
    assert not load("kienzle").rows[0].rests_on_memory


def test_unknown_names_and_keys_are_answered_with_near_ones() -> None:
    with pytest.raises(TableError, match="nearest known: morse"):
        load("morze")
    with pytest.raises(TableError, match="no table is called"):
        load("../errors")
    with pytest.raises(TableError, match="MT4"):
        rows("morse", "MT44")


def test_rows_are_found_by_any_key_column_and_by_all_of_them() -> None:
    assert len(rows("morse")) == len(load("morse").rows)
    assert [row["taper"] for row in rows("morse", "mt3")] == ["MT3"]
    assert {row["tolerance_class"] for row in rows("iso286", "h6")} == {"h6"}
    assert {row["tolerance_class"] for row in rows("iso286", "H6")} == {"H6"}
    assert [row["designation"] for row in rows("rings", "61802")] == ["6802"]
    assert len(rows("centre_holes", "A 2.5")) == 1
    assert all(value is not None for row in rows("rings", "6202") for value in row.values())


def test_importing_the_package_reads_nothing_and_a_lookup_reads_one_table() -> None:
    code = (
        "import sys, generator.tables as tables\n"
        "from pathlib import Path\n"
        "opened = []\n"
        "sys.addaudithook(lambda event, args: event == 'open' and str(args[0]).endswith('.csv')"
        " and opened.append(Path(args[0]).stem))\n"
        "tables.names(); tables.morse(3); tables.morse(4)\n"
        "print(opened, any(name in sys.modules for name in ('numpy', 'pandas', 'pint', 'pydantic')))\n"
        "opened.clear(); tables.ring('6202-2RS'); tables.limits('k6', 12); print(opened)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == ["['morse'] False", "['rings', 'iso286']"]


def test_importing_the_package_does_not_import_its_modules() -> None:
    code = "import sys, generator.tables; print(sorted(m for m in sys.modules if m.startswith('generator')))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "['generator', 'generator.tables']"


def test_each_table_is_read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[str] = []
    real = loader.read_table

    def counted(path: Path, name: str, entry: Entry) -> Table:
        calls.append(name)
        return real(path, name, entry)

    monkeypatch.setattr(loader, "read_table", counted)
    loader.load.cache_clear()
    loader.load("balls")
    loader.load("balls")
    assert calls == ["balls"]


def test_every_promised_name_is_there() -> None:
    for name in generator.tables.__all__:
        assert getattr(generator.tables, name).__module__.startswith("generator.tables.")
    with pytest.raises(AttributeError, match="no attribute 'mores'"):
        _ = generator.tables.mores


@pytest.mark.parametrize("key", ["MT3", "mt3", "3", "Morse 3", "morse 3"])
def test_a_morse_taper_is_found_as_it_is_spoken_of(key):
    found = rows("morse", key)
    assert found
    assert {row["taper"] for row in found} == {"MT3"}


def test_a_morse_taper_that_is_none_is_refused():
    with pytest.raises(TableError, match="no '9'"):
        rows("morse", "9")
