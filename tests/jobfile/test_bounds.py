"""A file costs no more than it is worth: it is refused early, in few words, and before it takes memory or time."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.jobfile.enormous import BAD, COUNTED, JOB, RUN, with_pieces
from ventsize.jobfile import document
from ventsize.jobfile.aligning import align
from ventsize.jobfile.bounds import DEEPEST_KEY, MOST_OF
from ventsize.jobfile.document import nearest, parse_toml
from ventsize.jobfile.job import job_from_text
from ventsize.jobfile.problems import MOST_TOLD, InputError, Problem
from ventsize.jobfile.rewriting import rewritten

MOST_MB = 300
MOST_SECONDS = 2.0


@pytest.mark.skipif(sys.platform == "win32", reason="memory is measured by the system's own count")
def test_what_is_enormous_is_refused_early(root: Path) -> None:
    """Each in at most 21 lines, 2 s of CPU, and all of them one after the other in 300 MB."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.jobfile.enormous"], cwd=root, capture_output=True, text=True, check=True
    )
    rows = [line.split("\t") for line in done.stdout.splitlines()]
    assert [row[0] for row in rows] == list(BAD)
    for name, lines, spent, most in rows:
        assert 1 <= int(lines) <= MOST_TOLD + 1, name
        assert float(spent) <= MOST_SECONDS, (name, spent)
        assert int(most) <= MOST_MB, (name, most)


def told(text: str) -> list[str]:
    """What is said of a file, line by line."""
    with pytest.raises(InputError) as caught:
        job_from_text(text, file="job.toml")
    return str(caught.value).splitlines()


def test_so_many_faults_are_told_and_the_rest_counted() -> None:
    """A thousand slips are not a thousand lines; how many there are is said."""
    lines = told(with_pieces("{pipe = '1 ft', heeading = 'up'}," * 1_000))
    assert len(lines) == MOST_TOLD + 1
    assert lines[-1] == f"job.toml: and {1_000 - MOST_TOLD} more faults"
    assert told(with_pieces("{pipe = '1 ft', heeading = 'up'}," * (MOST_TOLD + 1)))[-1] == (
        "job.toml: and one more fault"
    )
    assert len(told(with_pieces("{pipe = '1 ft', heeading = 'up'}," * MOST_TOLD))) == MOST_TOLD
    assert all("expected perhaps 'heading'" in line for line in lines[:-1])


def test_faults_that_hide_behind_many_are_counted_too() -> None:
    """Of every kind: unknown keys, wrong values, things that are no table."""
    pieces = "{pipe = '1 ft', heeading = 'up'}," * 300 + "{pipe = 1, sise = 1}," * 10 + "3," * 5
    assert told(with_pieces(pieces))[-1] == f"job.toml: and {300 + 20 + 5 - MOST_TOLD} more faults"


def test_one_sentence_is_no_book() -> None:
    """Whatever a name that stands in it holds."""
    assert len(str(Problem("f" * 5_000, "p", "x\ny" * 5_000))) <= 1_000


@pytest.mark.parametrize("line", ["a.b = 1", "a.b.c.d.e.f = 1", "[a.b.c.d.e.f]", 'note = "1.2.3.4.5.6.7.8.9.10"',
                                  'x = ["1.2.3.4.5.6.7.8", 1.5, 2.5, 3.5, 4.5, 5.5, 6.5, 7.5]', "# a.b.c.d.e.f.g.h",
                                  'note = """\nsee a.b.c.d.e.f.g.h.i.j\n"""'])  # fmt: skip
def test_what_files_do_hold_is_read(line: str) -> None:
    """Dots in numbers, texts and notes are no depth, and some depth is."""
    assert parse_toml(line, file="") is not None
    assert DEEPEST_KEY == 6


@pytest.mark.parametrize("line", ["a.b.c.d.e.f.g = 1", "[a.b.c.d.e.f.g]", "[[ a . b.c.d.e.f.g ]]",
                                  "x = { a.b.c.d.e.f.g = 1 }", "x = { y = 1, 'a'.b.\"c d\".d.e.f.g = 1 }",
                                  "x = [" * 1 + "[[[[[[[[[[[[1]]]]]]]]]]]]]"])  # fmt: skip
def test_depth_is_refused(line: str) -> None:
    """However it is written."""
    with pytest.raises(InputError, match="nested too deeply"):
        parse_toml(line, file="")


def test_a_large_job_is_read() -> None:
    """Ten thousand pieces are no fault, and one piece more than may be is said."""
    assert MOST_OF["pieces"] >= 10_000
    job = job_from_text(with_pieces("{pipe = '1 in', heading = 'up'}, {fitting = 'coupling'}," * 5_000), file="")
    assert len(job.runs[0].pieces or ()) == 10_000
    (line,) = told(with_pieces("{pipe='1 in'}," * (MOST_OF["pieces"] + 1)))
    assert line == "job.toml: run 1, pieces: it holds 20,001 items; expected no more than 20,000"


def test_names_are_looked_for_only_so_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """What was meant by the first mistyped names is told; by the ten thousandth, nobody reads it."""
    with pytest.raises(InputError):
        job_from_text(JOB.replace("fuel", "feul") + RUN + COUNTED, file="")
    asked: list[str] = []
    monkeypatch.setattr(document.difflib, "get_close_matches", lambda name, *_, **__: asked.append(name) or ["x"])
    known = [f"joint {number}" for number in range(200)]
    for number in range(5_000):
        nearest(f"jont {number}", known)
    assert 50 < len(asked) < 200


@pytest.mark.parametrize("item", [{"pipe": "1 in"}, None], ids=["all alike", "all different"])
def test_a_long_list_is_aligned_in_no_time(item: dict[str, str] | None) -> None:
    """Ten thousand items against ten thousand others: no two are compared with each other."""
    old = [item or {"pipe": f"{number} in"} for number in range(10_000)]
    new = [{"pipe": "x"}, *([item] * 5_000 if item else [{"pipe": f"{n} ft"} for n in range(9_000)]), {"pipe": "y"}]
    began = time.process_time()
    found = align([{"pipe": "q"}, *old, {"pipe": "r"}], new)
    assert time.process_time() - began < 5.0
    used = [place for place in found if place is not None]
    assert len(set(used)) == len(used) and len(used) >= len(new) - 2


def test_a_long_table_is_saved_in_a_moment() -> None:
    """One row of eight thousand changed: the others stay as typed."""
    rows = [
        f'[[row]]\ninput = "{40_000 + n} Btu/h"   # {n}\nsize = "3 in"\nallowable = "90 ft"\n' for n in range(8_000)
    ]
    text = 'title = "t"\n' + "".join(rows)
    data = parse_toml(text, file="")
    data["row"][4_000]["allowable"] = "77 ft"
    began = time.process_time()
    made = rewritten(text, data)
    assert time.process_time() - began < 8.0
    assert sum(a != b for a, b in zip(made.splitlines(), text.splitlines(), strict=True)) == 1
