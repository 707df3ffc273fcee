"""Job and shop files: every fault told with its place and line; what is written is accepted and means the same."""

import re
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import templates
from generator.errors import InputError, place_in_words
from generator.job.design import choices_of, inspect, work_out
from generator.job.places import address, line_of, lines_by_path
from generator.job.reader import find_job, read_job, shipped_jobs
from generator.job.shop import read_shop
from generator.job.toml_write import length_text, value_text
from generator.job.writer import new_job
from generator.kinds import kinds, load_kind, use_templates
from generator.units import read_length
from tests.unit.tiny_kind import JOB, write_tiny

SHIPPED = tuple(kinds())


@pytest.fixture(autouse=True)
def _tiny(monkeypatch, tmp_path_factory):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path_factory.mktemp("config")))
    monkeypatch.delenv(templates.FOLDER_VARIABLE, raising=False)
    use_templates(write_tiny(tmp_path_factory.mktemp("templates")))
    yield
    templates.use_folders(())


def faults(text):
    with pytest.raises(InputError) as caught:
        read_job(text)
    return caught.value.faults


def only(text):
    found = faults(text)
    assert len(found) == 1, found
    return found[0]


# --- a sound job ---


def test_a_sound_job_is_read_in_mm_and_degrees():
    job = read_job(JOB + 'length = "1 1/4 in"\nangle = "1.5 rad"\n')
    assert (job.name, job.kind_name, job.unit) == ("plug-1", "tiny", "mm")
    assert job.params.head.diameter == 30.0
    assert job.params.head.length == 31.75
    assert job.params.head.angle == pytest.approx(85.9436692696)


def test_bare_numbers_are_in_the_units_of_the_file():
    job = read_job('kind = "tiny"\nname = "a"\nunits = "in"\n[head]\ndiameter = 1.5\nlength = "30 mm"\nangle = 60\n')
    assert job.params.head.diameter == 38.1
    assert job.params.head.length == 30.0
    assert job.params.head.angle == 60.0


def test_a_date_may_stand_without_quotes():
    assert read_job(JOB + "[sheet]\ndate = 2025-03-31\n").params.sheet.date == "2025-03-31"


def test_a_byte_order_mark_and_windows_line_ends_are_accepted(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + JOB.replace("\n", "\r\n").encode())
    assert read_job(path).params.head.diameter == 30.0


# --- one fault, one message: place, line, rule, value, cure ---


@pytest.mark.parametrize(
    ("line", "rule", "value", "cure"),
    [
        ('length = "9**9**9 mm"', "what follows the number is no unit of length", "9**9**9 mm", "known units"),
        ('length = "1,5 mm"', "the decimal mark is a point, not a comma", "1,5 mm", '"1.5 mm"'),
        ('length = "2 kg"', "a mass stands where a length is wanted", "2 kg", "mm"),
        ("length = -3", "may not be below zero", "-3", "minus"),
        ("length = 1e9", "not credible", "1000000000.0", "check the figure"),
        ("length = nan", "must be a finite number", "nan", "write a bare number"),
        ("length = inf", "must be a finite number", "inf", "write a bare number"),
        ("length = true", "a length is a number or a text with a unit", "True", "write a bare number"),
        ("length = []", "a length is a number or a text with a unit", "[]", "write a bare number"),
        ("length = 2025-01-01", "what follows the number is no unit of length", "2025-01-01", "mm"),
        ("sides = 1.5", "must be a whole number", "1.5", "whole number"),
        ("sides = true", "must be a whole number", "true", "whole number"),
        ('sides = "1"', "must be a whole number", "'1'", "without quotes"),
        ("sides = 9", "must be at most 6", "9", "correct"),
        ("sides = 0", "must be at least 1", "0", "correct"),
        ("lenght = 3", "there is no such key here", "'lenght'", "nearest known: length"),
        ("taper = 3", "there is no such key here", "'taper'", "it belongs in [socket]"),
        ("zzz = 3", "there is no such key here", "'zzz'", "known here: diameter, length, angle, sides"),
    ],
)
def test_each_wrong_value_has_one_clear_fault(line, rule, value, cure):
    fault = only(f"{JOB}{line}\n")
    assert fault.line == 6
    assert fault.place == f"head.{line.split(' ')[0]}"
    assert rule in fault.rule
    assert value in fault.value
    assert cure in fault.cure
    assert len(fault.value) < 80


@pytest.mark.parametrize(
    ("text", "place", "line", "words"),
    [
        ('name = "x"\n[head]\ndiameter = 30', "kind", None, "is missing"),
        ('kind = 3\nname = "x"', "kind", 1, "must be a text"),
        ('kind = "../x"\nname = "x"', "kind", 1, "known kinds: "),
        ('\nkind = "os.path"\nname = "x"', "kind", 2, "small letters"),
        ('kind = "tinny"\nname = "x"', "kind", 1, "nearest known: tiny"),
        ('kind = "tiny"\n[head]\ndiameter = 30', "name", None, "is missing"),
        ('kind = "tiny"\nname = "a/b"\n[head]\ndiameter = 30', "name", 2, "letters, digits"),
        ('kind = "tiny"\nname = "../a"\n[head]\ndiameter = 30', "name", 2, "letters, digits"),
        ('kind = "tiny"\nname = ""\n[head]\ndiameter = 30', "name", 2, "letters, digits"),
        ('kind = "tiny"\nname = "x"\nunits = "cm"\n[head]\ndiameter = 30', "units", 3, "'mm' or 'in'"),
        ('kind = "tiny"\nname = "x"\ntitle = "a\\u0007b"\n[head]\ndiameter = 30', "title", 3, "printed on the sheet"),
        ('kind = "tiny"\nname = "x"', "head", None, "add a table [head]"),
        ('kind = "tiny"\nname = "x"\nhead = 3', "head", 3, "must be a table"),
        ('kind = "tiny"\nname = "x"\nstack = 3\n[head]\ndiameter = 30', "stack", 3, "must be a list"),
        ('kind = "tiny"\nname = "x"\n[head]\n', "head.diameter", 3, "outside diameter of the head"),
        (JOB + '[sheet]\ndate = "31.3.25"', "sheet.date", 7, "year-month"),
        (JOB + '[sheet]\ndate = "2025-02-30"', "sheet.date", 7, "year-month"),
        (JOB + '[[stack]]\nring = "6003"\n[[stack]]\nrng = "6003"', "stack[1].rng", 9, "nearest known: ring"),
        (JOB + "[[stack]]\ncount = 9", "stack[0].count", 7, "at most 4"),
        (JOB + "stack = 3", "head.stack", 6, "no such key"),
        (JOB + "[[stack]]\n" * 4, "stack", 6, "at most 3 entries"),
        (JOB + "[heads]\n", "heads", 6, "nearest known: head"),
    ],
)
def test_each_wrong_table_or_top_key_has_one_clear_fault(text, place, line, words):
    fault = only(text)
    assert (fault.place, fault.line) == (place, line)
    assert words in str(fault)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("kind = ", 1, "not TOML"),
        ('kind = "tiny"\nname = Morse 3', 2, 'numbers with a unit stand in double quotes: "Morse 3"'),
        ('kind = "tiny"\n\nlength = 1,5', 3, "the decimal mark is a point, not a comma"),
        ('kind = "tiny"\nlength = .5', 2, "write 0.5"),
        ('kind = "tiny"\nlength = 5/8', 2, 'in double quotes: "5/8"'),
        ('kind = "tiny"\ndate = 2025-02-30', 2, "day of the calendar"),
        ('kind = "tiny"\nkind = "tiny"', 2, "stands twice"),
        (JOB + "[head]\n", 6, "stands twice"),
        (JOB + "diameter = 3\n", 6, "stands twice"),
        ('kind = "tiny', 1, "not TOML"),
        ("kind = [1,\n2", 2, "Unclosed array"),
        ("kind = " + "9" * 1990, 1, None),
        ("\0", 1, "not TOML"),
        ("a = " + "[" * 1500, None, "at most 8 deep"),
        ("a = " + "[\n" * 3000, None, "at most 8 deep"),
        ("a = " + "[" * 9 + "]" * 9, None, "at most 8 deep"),
        (".".join("a" * 9) + " = 1", None, "at most 8 deep"),
        (".".join("a" * 40_000) + " = 1", 1, "a line may have at most 2000 characters"),
        ("<html><body>", 1, "not TOML"),
    ],
)
def test_text_that_is_no_job_at_all(text, line, words):
    found = faults(text)
    assert found[0].line == line
    assert words is None or words in str(found[0])
    assert all(len(str(fault)) < 500 for fault in found)


def test_a_long_text_is_refused_and_hardly_shown():
    for value in ('"' + "x" * 190_000 + '"\n', '"""' + "xxxx\n" * 400 + '"""'):
        fault = only(f"{JOB}[sheet]\nowner = {value}")
        assert fault.line == 7
        assert fault.place.endswith("owner")
        assert "1000 characters" in fault.rule
        assert fault.value.count("x") <= 40


def test_a_file_too_large_is_refused_by_its_size(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text("# " + "x" * 300_000)
    with pytest.raises(InputError, match=r"at most 200 kB \(found 300.0 kB\)"):
        read_job(path)
    with pytest.raises(InputError, match="more than 200 kB"):
        read_job(Path("/dev/zero"))


def test_files_that_cannot_be_read(tmp_path):
    with pytest.raises(InputError, match="no such file"):
        read_job(tmp_path / "none.toml")
    with pytest.raises(InputError, match="a folder, not a file"):
        read_job(tmp_path)
    with pytest.raises(InputError, match="cannot be read"):
        read_job(Path("a\0b"))
    (tmp_path / "latin.toml").write_bytes('kind = "tiny"\nname = "Größe"\n'.encode("latin-1"))
    with pytest.raises(InputError, match=r"line 2, job file: the file is not UTF-8 text \(found byte 0xf6\)"):
        read_job(tmp_path / "latin.toml")
    (tmp_path / "wide.toml").write_text(JOB, encoding="utf-16")
    with pytest.raises(InputError, match="not UTF-8 text"):
        read_job(tmp_path / "wide.toml")


def test_people_are_told_entries_counted_from_one():
    with pytest.raises(InputError, match=r"line 9, second \[\[stack\]\], rng: there is no such key here"):
        read_job(JOB + '[[stack]]\nring = "6003"\n[[stack]]\nrng = "6003"')
    assert place_in_words("stack[1]") == "second [[stack]]"
    assert place_in_words("sheet.revision[11].letter") == "12th [[sheet.revision]], letter"
    assert place_in_words("stack.spacer_1") == "stack.spacer_1"


@pytest.mark.parametrize(("stack", "line"), [
    ('ring = "6001"\n[[stack]]\nring = "6003"', 11), ('ring = "6001"\ncount = 2\n[[stack]]\nring = "6003"', 12),
    ('ring = "6001"\n[[stack]]\nspacer = 3\n[[stack]]\nring = "6003"', 13),
])
def test_a_ring_out_of_order_has_the_line_of_its_entry(stack, line):
    """The heading that begins the larger, later ring: counted on the text by hand."""
    text = (
        'kind = "revolving-centre"\nname = "a"\n[socket]\ntaper = "Morse 3"\n[passes]\nholder_width = 16\n'
        f'tip_ahead = 6\nwork_diameter = 22\n[[stack]]\n{stack}\n'
    )
    with pytest.raises(InputError, match="list the larger bearing first") as caught:
        choices_of(read_job(text))
    assert {fault.line for fault in caught.value.faults} == {line}


def test_all_faults_are_told_at_once_in_file_order():
    text = """\
kind = "tiny"
name = "a b"
titel = "x"
[socket]
ejector_depth = "1,5 mm"
[head]
diameter = "2 kg"
side = 1
[[stack]]
ring = 3
[[stack]]
count = 0
[sheet]
owner = ""
"""
    found = faults(text)
    assert [(fault.line, fault.place) for fault in found] == [
        (2, "name"), (3, "titel"), (5, "socket.ejector_depth"), (7, "head.diameter"), (8, "head.side"),
        (10, "stack[0].ring"), (12, "stack[1].count"), (14, "sheet.owner"),
    ]


def test_an_unknown_kind_does_not_hide_the_other_faults():
    found = faults('kind = "x y"\nname = "a b"\nunits = "ft"\n[sheet]\nownr = "me"\n[head]\nfoo = 1\n')
    assert [fault.place for fault in found] == ["kind", "name", "units", "sheet.ownr"]


def test_a_file_full_of_faults_is_told_in_a_screenful():
    found = faults(JOB + "".join(f"k{number} = {number}\n" for number in range(9000)))
    assert len(found) <= 51
    assert "more than 50 faults" in found[-1].rule


def test_what_the_kind_itself_refuses_has_its_line_too():
    with pytest.raises(InputError, match=r"line 5, head.diameter: must be larger than the shank \(found 20 mm\)"):
        work_out(read_job(JOB.replace("30", "20")))


def test_a_template_that_fails_is_told_without_a_traceback(tmp_path_factory):
    folder = write_tiny(tmp_path_factory.mktemp("failing"))
    text = (folder / "tiny.py").read_text().replace('"half the diameter")', '"half the diameter", *{}["gone"])')
    (folder / "tiny.py").write_text(text)
    use_templates(folder)
    with pytest.raises(InputError, match=r"the template tiny failed: KeyError: 'gone' \(tiny.py, line \d+\)"):
        work_out(read_job(JOB))


# --- line numbers ---

TRICKY = '''\
# a comment with [table] and key = 1
"a b" = 1            # quoted key
'c.d' = "#[not.a.table]"
e.f = """
[g]
h = 1
\\""" still inside"""  # over
e."q\\"r" = \'\'\'
[s]\'\'\'
list = [ # comment ]
  1, [2, 3],  # "
  { x = 1, y.z = "}" },
]
[ t . "u v" ]
w = { x = [ { y = 1 } ] }
[[many]]
n = 1
[many.inner]
o = 2
[[many]]
n = 3
[[many.deep]]
p = 4
[[many.deep]]
p = 5
'''


def test_the_line_of_every_key_in_a_tricky_text():
    tomllib.loads(TRICKY)
    lines = lines_by_path(TRICKY)
    expected = {
        ("a b",): 2, ("c.d",): 3, ("e", "f"): 4, ("e", 'q"r'): 8, ("list",): 10, ("list", 0): 11, ("list", 1, 1): 11,
        ("list", 2): 12, ("list", 2, "y", "z"): 12, ("t", "u v"): 14, ("t", "u v", "w"): 15,
        ("t", "u v", "w", "x", 0, "y"): 15, ("many",): 16, ("many", 0, "n"): 17, ("many", 0, "inner", "o"): 19,
        ("many", 1): 20, ("many", 1, "n"): 21, ("many", 1, "deep", 0, "p"): 23, ("many", 1, "deep", 1, "p"): 25,
    }
    assert {path: lines.get(path) for path in expected} == expected
    assert lines == lines_by_path(TRICKY.replace("\n", "\r\n"))


def test_an_address_leads_back_to_its_line_or_that_of_its_table():
    lines = lines_by_path(TRICKY)
    assert address(("many", 1, "deep", 0, "p")) == "many[1].deep[0].p"
    assert line_of("many[1].deep[0].p", lines) == 23
    assert line_of("many[1].deep[0].missing", lines) == 22
    assert line_of("nowhere.at.all", lines) is None


_KEYS = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=6)
_LEAVES = st.one_of(
    st.integers(-99, 99), st.booleans(), st.floats(allow_nan=False, allow_infinity=False, width=32),
    st.text(st.characters(exclude_categories=("Cs",)), max_size=12),
)
_VALUES = st.recursive(
    _LEAVES,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(_KEYS, inner, max_size=3)),
    max_leaves=8,
)


@settings(max_examples=150, deadline=None)
@given(st.dictionaries(_KEYS, _VALUES, max_size=5))
def test_any_data_written_reads_back_the_same_and_every_key_has_its_line(data):
    rows = [f"{value_text(str(key))} = {value_text(value)}" for key, value in data.items()]
    text = "".join(f"{row}\n" for row in rows)
    # Source: the standard library's own reader is the judge of what TOML says.
    assert tomllib.loads(text) == data
    lines = lines_by_path(text)
    for number, (key, value) in enumerate(data.items(), start=1):
        assert lines[(key,)] == number
        for path in _paths(value, (key,)):
            assert lines[path] == number


def _paths(value, at):
    entries = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, inner in entries:
        yield (*at, key)
        yield from _paths(inner, (*at, key))


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet='ab[]{}="\'#.,\n \\1', max_size=60))
def test_no_text_gets_past_the_reader_other_than_by_its_own_error(text):
    with pytest.raises(InputError, match=r"^job: \d+ faults?\n"):
        read_job(text)


# --- lengths as text ---


@settings(max_examples=300, deadline=None)
@given(st.integers(1, 400_000), st.sampled_from(["mm", "in"]))
def test_lengths_are_written_so_that_they_read_back_as_they_were(thousandths, unit):
    value_mm = thousandths / 1000
    back = tomllib.loads(f"x = {length_text(value_mm, unit)}")["x"]
    assert read_length(back, unit) == pytest.approx(value_mm, abs=1e-9)


def test_inch_files_show_inches_where_they_are_round():
    assert length_text(12.7, "in") == "0.5"
    assert length_text(41.275, "in") == "1.625"
    assert length_text(44.0, "in") == '"44 mm"'
    assert length_text(43.0, "mm") == "43.0"


# --- new jobs ---


def _live(text):
    return [line for line in text.splitlines() if line and not line.startswith("#")]


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("kind", ["tiny", *SHIPPED])
def test_what_new_writes_is_accepted_and_gives_the_choices_it_shows(kind, unit):
    made = new_job(kind, "fresh", unit=unit)
    job = read_job(made.text)
    assert (job.kind_name, job.name, job.unit) == (kind, "fresh", unit)
    shown = _shown_in_comments(made.text)
    choices = choices_of(job).parameters
    derived = {name: choice for name, choice in choices.items() if not choice.given and ".spacer_" not in name}
    assert set(derived) <= set(shown)
    for name, choice in derived.items():
        value = shown[name]
        if choice.unit == "mm":
            value = read_length(value, unit)
        wanted = pytest.approx(choice.value, abs=1e-6) if isinstance(choice.value, float) else choice.value
        assert value == wanted, name
    assert not any(finding.severity == "stop" for finding in inspect(work_out(job)).findings)


def _shown_in_comments(text):
    """Values of commented lines by address, read by the standard library."""
    table, found = "", {}
    for line in text.splitlines():
        if heading := re.match(r"(?:# )?\[+(\w+)\]+$", line):
            table = heading.group(1)
        elif key := re.match(r"# (\w+) = (?!\"\.\.\.)(.*)$", line):
            found[f"{table}.{key.group(1)}"] = tomllib.loads(f"x = {key.group(2)}")["x"]
    return found


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("kind", ["tiny", *SHIPPED])
def test_taking_the_marks_away_fixes_the_values_and_changes_nothing(kind, unit):
    text = new_job(kind, "fresh", unit=unit).text
    loose = choices_of(read_job(text))
    entries = re.sub(r"(?m)^# (\[\[\w+\]\])$(?=\n# spacer = )", r"\1", text)
    fixed = re.sub(r"(?m)^# (\w+ = (?!\"\.\.\.).*   # .*)$", r"\1", entries)
    assert fixed != text
    # A table that is off altogether stays off.
    assert choices_of(read_job(fixed)).values() == pytest.approx(dict(loose.values()), abs=1e-6)


def test_like_takes_the_given_values_and_leaves_the_rest_to_the_rules():
    like = read_job(JOB + '# comment\nlength = "1 1/4 in"\n[socket]\nejector_depth = 70\n')
    text = new_job("tiny", "second", like=like).text
    assert 'length = "1 1/4 in"' in _live(text)
    assert "ejector_depth = 70" in _live(text)
    assert "# angle = 60.0   # usual of centre holes" in text
    again = read_job(text)
    assert choices_of(again) == choices_of(like)
    in_inches = read_job(new_job("tiny", "third", like=like, unit="in").text)
    assert choices_of(in_inches) == choices_of(like)


def test_like_of_another_kind_keeps_what_both_know():
    like = read_job(find_job("demo"))
    made = new_job("tiny", "other", like=like)
    assert "passes" in made.left_out
    assert read_job(made.text).params.socket.taper == like.params.socket.taper


@pytest.mark.parametrize("unit", ["mm", "in", None])
@pytest.mark.parametrize("like_unit", ["mm", "in"])
@pytest.mark.parametrize("like_kind", ["tiny", *SHIPPED])
@pytest.mark.parametrize("kind", ["tiny", *SHIPPED])
def test_what_an_example_adds_stays_in_its_own_millimetres(kind, like_kind, like_unit, unit):
    like = read_job(new_job(like_kind, "first", unit=like_unit).text)
    made = read_job(new_job(kind, "second", like=like, unit=unit).text)
    assert made.unit == (unit or like_unit)
    example = read_job(f'kind = "{kind}"\nname = "example"\n{load_kind(kind).EXAMPLE}')
    for table in set(example.data) - set(like.data):
        # What the other kind does not know comes from the example, the same size in either unit.
        assert getattr(made.params, table) == getattr(example.params, table)


@pytest.mark.parametrize("kind", ["tiny", *SHIPPED])
def test_a_line_with_dots_is_answered_with_what_to_do(kind):
    text = new_job(kind, "dotted").text
    lines = text.splitlines()
    dotted = [number for number, line in enumerate(lines) if line.endswith('= "..."') and not _is_off(lines, number)]
    assert dotted
    for number in dotted:
        line = lines[number].removeprefix("# ")
        found = faults("\n".join([*lines[:number], line, *lines[number + 1 :]]))
        assert [(fault.line, fault.rule, fault.cure) for fault in found] == [(
            number + 1, "the dots stand for a value that is not given",
            "write one in their place, or put the # back",
        )], line


def _is_off(lines, number):
    """Whether the table that holds the line is commented out as a whole."""
    heading = next(line for line in reversed(lines[:number]) if re.match(r"(# )?\[|name = ", line))
    return heading.startswith("#")


def test_a_shop_file_fills_in_what_the_job_does_not_say():
    shop = read_shop(
        'units = "in"\n[machine]\ntaper = "MT3"\nejector_depth = 3.5\nquill_face_diameter = 2\n'
        '[sheet]\nowner = "Me"\nnumber = "7"\n[[bar]]\ndiameter = 1.75\n'
        '[[ring]]\nring = "6003-2RS"\nmeasured_width = "9.97 mm"\n'
    )
    job = read_job(JOB + '[[stack]]\nring = "6003-2RS"\n[sheet]\nowner = "You"\n', shop=shop)
    assert job.params.socket.ejector_depth == pytest.approx(88.9)
    assert job.params.sheet.owner == "You"
    assert job.params.sheet.number == "7"
    assert job.params.bar.diameter == pytest.approx(44.45)
    assert job.params.stack[0].measured_width == 9.97
    assert set(job.from_shop) == {
        "sheet.number", "socket.taper", "socket.ejector_depth", "bar.diameter", "stack[0].measured_width",
    }
    text = new_job("tiny", "n", like=job).text
    assert choices_of(read_job(text)) == choices_of(job)
    own = new_job("tiny", "n", shop=shop).text
    assert 'ejector_depth = 88.9   # from the shop file' in own


def test_a_shop_file_is_silent_where_it_is_not_plain_what_is_meant():
    shop = read_shop(
        '[machine]\ntaper = "Morse 2"\nejector_depth = 60\n[[bar]]\ndiameter = 40\n[[bar]]\ndiameter = 45\n'
        '[[ring]]\nring = "6003-2RS"\nmeasured_width = 9.97\n[[ring]]\nring = "6003-2RS"\nmeasured_width = 9.98\n'
    )
    job = read_job(JOB + '[socket]\ntaper = "Morse 3"\n[[stack]]\nring = "6003-2RS"\n', shop=shop)
    assert job.from_shop == ()
    assert len(job.notes) == 3
    assert "on the shelf: 45.0" in new_job("tiny", "n", like=job, shop=shop).text


def test_a_shop_file_is_read_as_strictly_as_a_job():
    with pytest.raises(InputError) as caught:
        read_shop('[machine]\nejektor_depth = 3\n[[bar]]\nlength = "2 kg"\n')
    assert [(fault.line, fault.place) for fault in caught.value.faults] == [
        (2, "machine.ejektor_depth"), (3, "bar[0].diameter"), (4, "bar[0].length"),
    ]


# --- shipped jobs ---


def test_shipped_jobs_are_found_by_bare_name_only(tmp_path, monkeypatch):
    assert "demo" in shipped_jobs()
    monkeypatch.chdir(tmp_path)
    assert read_job(find_job("demo")).name
    assert find_job("./demo") == Path("demo")
    assert find_job("demo.toml") == Path("demo.toml")
