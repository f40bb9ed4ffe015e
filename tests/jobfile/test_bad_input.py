"""Bad input is refused in one sentence: file, place, what is wrong, what is expected."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ventsize.jobfile import document
from ventsize.jobfile.document import LARGEST_FILE, nearest, place_of
from ventsize.jobfile.job import job_from_data, job_from_text, read_job
from ventsize.jobfile.problems import InputError, Problem

GOOD = """
title = "Shed"
tables = ["t.toml"]
[site]
altitude = "620 ft"
[[appliance]]
name = "heater"
fuel = "natural gas"
[[appliance.rate]]
name = "high"
input = "80 kBtu/h"
excess_air = 0.35
flue_temperature = "110 degF"
[[run]]
name = "vent"
carries = "flue gas"
between = ["heater", "outdoors"]
size = "3 in"
material = "pvc-40"
pieces = [{ pipe = "4 ft", heading = "up" }, { fitting = "elbow-90-long" }, { fitting = "terminal-open" }]
[[run]]
name = "air"
carries = "combustion air"
between = ["heater", "outdoors"]
size = "3 in"
material = "pvc-40"
straight = "27 ft"
fittings = { "elbow-90-long" = 3 }
"""
VENT, AIR, HIGH = "run 'vent'", "run 'air'", "appliance 'heater', rate 'high'"
LENGTH = "a length such as '12 ft 6 in' or '3.8 m'"


def problems_of(text: str) -> tuple[Problem, ...]:
    """What is wrong with a job."""
    with pytest.raises(InputError) as caught:
        job_from_text(text, file="job.toml")
    return caught.value.problems


def changed(old: str, new: str) -> str:
    """The good job with one thing wrong."""
    assert old in GOOD
    return GOOD.replace(old, new, 1)


def test_the_good_job_is_good() -> None:
    """Each case below is bad for one reason only."""
    assert job_from_text(GOOD, file="job.toml").title == "Shed"


@pytest.mark.parametrize(
    ("old", "new", "place", "problem", "expected"),
    [
        # wrong types
        ('title = "Shed"', "title = 3", "title", "3 cannot be used here", "text in quotes"),
        ('["t.toml"]', '"t.toml"', "tables", "'t.toml' cannot be used here", "a list in square brackets"),
        ('"4 ft"', "4.5", f"{VENT}, piece 1, pipe", "4.5 is not text with a unit", LENGTH),
        ('size = "3 in"', "size = true", f"{VENT}, size", "True is not text with a unit", LENGTH),
        ('{ fitting = "elbow-90-long" }', '"elbow"', f"{VENT}, piece 2", "'elbow' is not a table of keys",
         "a table such as { name = 'value' }"),
        ('["heater", "outdoors"]', '"heater"', f"{VENT}, between", "'heater' cannot be used here",
         "a list in square brackets"),
        ('["heater", "outdoors"]', '["heater", "a", "b"]', f"{VENT}, between",
         "['heater', 'a', 'b'] cannot be used here", "no more than 2 values"),
        ('"elbow-90-long" = 3', '"elbow-90-long" = 2.5', f"{AIR}, fittings, elbow-90-long",
         "2.5 cannot be used here", "a whole number"),
        ('"elbow-90-long" = 3', '"elbow-90-long" = -3', f"{AIR}, fittings, elbow-90-long",
         "-3 cannot be used here", "0 or more"),
        ('"elbow-90-long" = 3', '"elbow-90-long" = 10001', f"{AIR}, fittings, elbow-90-long",
         "10001 cannot be used here", "no more than 10,000"),
        # units
        ('"4 ft"', '"4"', f"{VENT}, piece 1, pipe", '"4" has no unit', "a length, for example 12 ft 6 in or 3.8 m"),
        ('"4 ft"', '"4 Pa"', f"{VENT}, piece 1, pipe", '"4 Pa" is a pressure, not a length',
         "a length, for example 12 ft 6 in or 3.8 m"),
        ('"4 ft"', '"-4 ft"', f"{VENT}, piece 1, pipe", '"-4 ft" is below zero',
         "a length of zero or more, for example 12 ft 6 in or 3.8 m"),
        # unknown keys, with the nearest
        ("carries =", "carrys =", VENT, "unknown key 'carrys'", "perhaps 'carries'"),
        ("altitude", "altitud", "site", "unknown key 'altitud'", "perhaps 'altitude'"),
        ("heading =", "headng =", f"{VENT}, piece 1", "unknown key 'headng'", "perhaps 'heading'"),
        ("excess_air", "excess-air", HIGH, "unknown key 'excess-air'", "perhaps 'excess_air'"),
        # what is missing
        ('title = "Shed"', "", "", "the key 'title' is missing", "text in quotes"),
        ('between = ["heater", "outdoors"]\n', "", VENT, "the key 'between' is missing",
         "two joints such as ['furnace', 'outdoors']"),
        ('straight = "27 ft"\n', "", AIR, "it has neither 'pieces' nor 'straight'", "a layout or a count of feet"),
        ('{ fitting = "elbow-90-long" }', "{}", f"{VENT}, piece 2", "it is neither a pipe nor a fitting",
         "one of pipe = '3 ft' and fitting = 'elbow-45'"),
        ('fitting = "elbow-90-long"', 'fitting = "x", pipe = "1 ft"', f"{VENT}, piece 2",
         "it is both a pipe and a fitting", "one of pipe = '3 ft' and fitting = 'elbow-45'"),
        ("excess_air = 0.35\n", "", HIGH, "the excess air is not given",
         "one of excess_air, oxygen, carbon_dioxide"),
        ('straight = "27 ft"\nfittings = { "elbow-90-long" = 3 }', "pieces = []", AIR, "it has no pieces",
         "at least one pipe or fitting"),
        # a run that ends nowhere, or where it began
        ('["heater", "outdoors"]', '["heater"]', f"{VENT}, between 2", "['heater'] cannot be used here",
         "one value more"),
        ('["heater", "outdoors"]', '["heater", "heater"]', VENT, "it starts and ends at 'heater'",
         "two different joints"),
        # values no vent has
        ('size = "3 in"', 'size = "0 in"', f"{VENT}, size", "it is zero or less", "more than zero"),
        ('"80 kBtu/h"', '"0 kBtu/h"', f"{HIGH}, input", "it is zero or less", "more than zero"),
        ("0.35", "-0.1", f"{HIGH}, excess_air", "-0.1 is below zero", "zero or more"),
        ("0.35", '"-10 %"', f"{HIGH}, excess_air", '"-10 %" is below zero',
         "a fraction of zero or more, for example 8.4 % or 0.35"),
        ("0.35", "35", f"{HIGH}, excess_air", "an excess air of 3500% is not met in practice",
         "a share such as 0.35 or '35 %'"),
        ("0.35", "nan", f"{HIGH}, excess_air", "nan is not a finite number", "a number such as 0.9"),
        ("0.35", '0.35\noxygen = "6 %"', HIGH, "the excess air is given more than once",
         "one of excess_air, oxygen, carbon_dioxide"),
        ('"110 degF"', '"-500 degF"', f"{HIGH}, flue_temperature", '"-500 degF" is below absolute zero',
         "a temperature above -459.67 °F or -273.15 °C, for example 110 °F or 43 °C"),
        ('"flue gas"', '"smoke"', f"{VENT}, carries", "'smoke' cannot be used here", "'flue gas' or 'combustion air'"),
        ('"up"', '"left"', f"{VENT}, piece 1, heading", "'left' cannot be used here",
         "'up', 'down', 'north', 'south', 'east' or 'west'"),
        # names
        ('name = "air"', 'name = "vent"', VENT, "two runs have this name", "each name once"),
        ("[[run]]", '[[appliance]]\nname = "heater"\nfuel = "x"\nrate = [{ name = "a", input = "1 kW", '
         'excess_air = 0, flue_temperature = "40 degC" }]\n[[run]]', "appliance 'heater'",
         "two appliances have this name", "each name once"),
        ('name = "vent"', 'name = " "', "run", "a run has an empty name", "a name"),
        ('name = "heater"', 'name = "outdoors"', "appliance 'outdoors'", "'outdoors' is the name of the open air",
         "another name"),
        ('name = "heater"\n', 'name = ""\n', "appliance", "an appliance has an empty name", "a name"),
        ('name = "high"', 'name = ""', "appliance 'heater', rate", "a firing rate has an empty name",
         "a name such as 'high'"),
        ('size = "3 in"', 'table = ""\nsize = "3 in"', f"{VENT}, table", "it is empty",
         "the name of a table file, or no such key"),
        # keys that belong elsewhere, and keys like none
        ('fitting = "elbow-90-long"', 'fitting = "elbow-90-long", heading = "up"', f"{VENT}, piece 2",
         "unknown key 'heading'", "it on a pipe only: the pipes beside a fitting say where it turns to"),
        ('heading = "up"', "k = 3", f"{VENT}, piece 1", "unknown key 'k'", "it on a fitting only"),
        ("altitude", "zzz", "site", "unknown key 'zzz'",
         "one of: altitude, attic, crawlspace, design_outdoor, indoor, indoor_relative_humidity, outdoor, "
         "relative_humidity, room_pressure, stack_height, terrain, wind, …"),
        # figures that nothing can be reckoned from
        ('"4 ft"', '"1e300 ft"', f"{VENT}, piece 1, pipe", "'1e300 ft' is more than can be reckoned with",
         "no more than 100,000 ft or 30,480 m"),
        ('"80 kBtu/h"', '"1e160 kBtu/h"', f"{HIGH}, input", "'1e160 kBtu/h' is more than can be reckoned with",
         "no more than 3,412,141,156 Btu/h or 1,000,000.0 kW"),
        ('"80 kBtu/h"', '"1e-9 kBtu/h"', f"{HIGH}, input", "it is less than any appliance burns",
         "an input such as '80,000 Btu/h' or '24 kW'"),
        ('fitting = "elbow-90-long"', 'fitting = "elbow-90-long", k = 1e308', f"{VENT}, piece 2, k",
         "1e+308 is more than can be reckoned with", "no more than 1,000,000"),
        ("[[run]]", '[[joint]]\nname = "t"\nfitting = "elbow"\nin_line = ["vent", "air"]\n[[run]]',
         "joint 't', fitting", "'elbow' cannot be used here", "'tee' or 'wye'"),
    ],
)  # fmt: skip
def test_one_thing_wrong(old: str, new: str, place: str, problem: str, expected: str) -> None:
    """Each fault by itself gives one sentence that says where, what, and what instead."""
    assert problems_of(changed(old, new)) == (Problem("job.toml", place, problem, expected),)


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("title = ", "it is not TOML: "),
        ("just words", "it is not TOML: "),
        ("title = 'a'\ntitle = 'b'\n", "it is not TOML: "),
        ('title = "a\x00b"', "it is not TOML: "),
        ("a = " + "[" * 5000 + "]" * 5000, "it is nested too deeply"),
        ("a = 1" + "0" * 5000, "a number or a date in it cannot be read"),
    ],
)
def test_not_toml(text: str, problem: str) -> None:
    """What is not TOML is said with the line, and nothing a text holds gets past as a traceback."""
    (found,) = problems_of(text)
    assert found.file == "job.toml" and found.expected
    assert found.problem.startswith(problem)
    assert "TOML" not in problem or "(at " in found.problem


def test_several_faults_are_all_said() -> None:
    """Whoever mends a file by hand wants to hear of everything at once, one line each."""
    text = changed('"4 ft"', '"4"').replace("0.35", "-1").replace('"27 ft"', '"27 kg"')
    places = [problem.place for problem in problems_of(text)]
    assert places == [f"{HIGH}, excess_air", f"{VENT}, piece 1, pipe", f"{AIR}, straight"]
    with pytest.raises(InputError) as caught:
        job_from_text(text, file="job.toml")
    assert len(str(caught.value).splitlines()) == 3


def test_an_unknown_key_hides_no_other_fault() -> None:
    """Neither the second one of a table, nor values in it, nor faults elsewhere, nor faults between keys."""
    text = changed('title = "Shed"', 'titel = "Shed"\nzzz = 1')
    text = text.replace("carries =", "carrys =", 1).replace('"4 ft"', '"4"').replace("headng", "heading")
    assert [(p.place, p.problem) for p in problems_of(text)] == [
        ("", "unknown key 'titel'"),
        ("", "unknown key 'zzz'"),
        (VENT, "unknown key 'carrys'"),
        (f"{VENT}, piece 1, pipe", '"4" has no unit'),
    ]
    between = changed('title = "Shed"', 'title = "Shed"\nzzz = 1').replace('name = "air"', 'name = "vent"')
    assert [p.problem for p in problems_of(between)] == ["unknown key 'zzz'", "two runs have this name"]


def test_a_mistyped_key_is_one_fault() -> None:
    """It is read as the key that was meant: what follows from the slip alone is no fault of its own."""
    for old, new in (("fuel =", "fuell ="), ("excess_air", "excess-air"), ('straight = "27 ft"', 'stright = "27 ft"')):
        assert [problem.problem for problem in problems_of(changed(old, new))] == [f"unknown key '{new.split()[0]}'"]
    doubled = changed("fuel =", 'fuell = "x"\nfuel =')
    assert [problem.problem for problem in problems_of(doubled)] == ["unknown key 'fuell'"]


def test_a_key_named_as_a_tag() -> None:
    """The tags of pieces are our own; a file that has one as a key is refused like any other."""
    (found,) = problems_of(changed('heading = "up"', '"<pipe>" = 1'))
    assert found.place.startswith(f"{VENT}, piece 1") and found.problem == "unknown key '<pipe>'"


def test_files_that_are_no_text(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder, nothing, a picture, a huge file, a file that may not be read, a name no file can have."""
    binary, huge, closed = (tmp_path / name for name in ("picture.toml", "huge.toml", "closed.toml"))
    binary.write_bytes(b"\x89PNG\r\n\x1a\n\xff\xd8")
    with huge.open("wb") as file:
        file.truncate(LARGEST_FILE * 100)
    closed.write_text("", encoding="utf-8")

    def refuse(_path: Path, _mode: str) -> bytes:
        raise PermissionError(13, "Permission denied")

    expected = "a TOML text file"
    for path, problem, instead in (
        (tmp_path, "it is a folder", expected),
        (tmp_path / "none.toml", "there is no such file", expected),
        (binary, "it is not UTF-8 text", expected),
        (huge, "it is 400 MB large", "no more than 4 MB"),
        (Path("a\x00b"), None, expected),
    ):
        with pytest.raises(InputError) as caught:
            read_job(path)
        (found,) = caught.value.problems
        assert (found.file, found.place, found.expected) == (str(path), "", instead)
        assert problem in (None, found.problem)
    monkeypatch.setattr(document.Path, "open", refuse)
    with pytest.raises(InputError, match="it cannot be read: Permission denied"):
        read_job(closed)


def test_a_device_is_no_file() -> None:
    """What never ends is not read."""
    endless = Path("/dev/zero")
    if not endless.exists():
        pytest.skip("no such device here")
    with pytest.raises(InputError, match="it is not an ordinary file"):
        read_job(endless)


def test_a_mark_of_encoding_and_windows_line_ends_are_read() -> None:
    """Editors that add either do no harm."""
    assert document.decoded(b"\xef\xbb\xbftitle = 'x'", file="") == "title = 'x'"
    assert document.parse_toml('note = """x\r\ny"""\r\n', file="") == {"note": "x\ny"}


def test_a_sentence_is_one_line() -> None:
    """Whatever a name holds, an error is one line."""
    assert str(Problem("a.toml", "run 'x\ny'", "bad\n\nthing", "")) == "a.toml: run 'x y': bad thing"
    assert str(Problem("", "", "bad", "good")) == "bad; expected good"


def test_nearest_and_places() -> None:
    """The words of the sentences."""
    assert nearest("hight", ["height", "width"]) == "perhaps 'height'"
    assert nearest("zzz", ["height", "width"]) == "one of: height, width"
    assert nearest("zzz", []) == "none here"
    data = {"run": [{"name": "vent", "pieces": [{}, {"pipe": "1 ft"}]}]}
    assert place_of(("run", 0, "pieces", 1, "pipe"), data) == "run 'vent', piece 2, pipe"


PLACES = st.sampled_from(
    [("title",), ("site",), ("site", "altitude"), ("appliance",), ("appliance", 0), ("appliance", 0, "rate", 0),
     ("appliance", 0, "rate", 0, "excess_air"), ("run",), ("run", 0), ("run", 0, "pieces"), ("run", 0, "pieces", 0),
     ("run", 0, "pieces", 0, "pipe"), ("run", 1, "fittings"), ("run", 1, "between"), ("joint",), ("fitting",)]
)  # fmt: skip
ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)


@given(PLACES, ANYTHING)
def test_whatever_stands_anywhere(place: tuple[str | int, ...], value: Any) -> None:
    """Any value at any place is either fine or refused in sentences, never anything else."""
    data = tomllib.loads(GOOD)
    holder: Any = data
    for step in place[:-1]:
        holder = holder[step]
    holder[place[-1]] = value
    try:
        job_from_data(data, file="job.toml")
    except InputError as error:
        assert error.problems and all(len(line) < 400 for line in str(error).split("\n"))
        assert len(str(error).split("\n")) == len(error.problems)
