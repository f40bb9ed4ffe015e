"""What is saved reads back exactly, and a hand-written file keeps its comments and its style."""

from __future__ import annotations

import copy
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ventsize.jobfile import editing
from ventsize.jobfile.history import same
from ventsize.jobfile.layout import layout_of, tokens
from ventsize.jobfile.rewriting import NotToml, rewritten

ROOT = Path(__file__).resolve().parents[2]
SHIPPED = sorted([*(ROOT / "scenarios").glob("*.toml"), *(ROOT / "tables").glob("*.toml")])

HAND_WRITTEN = """\
# A job kept by hand.
title = "Shed"

[[appliance]]
name = 'heater'
fuel = "natural gas"

# full fire
[[appliance.rate]]
name = "high"
input = "80 kBtu/h"   # from the plate

# ---- runs ----

# out through the wall
[[run]]
name = "vent"
size = "3 in"
between = ["heater", "outdoors"]   # as walked
pieces = [
  # up from the collar
  { pipe = "2 ft", heading = "up" },   # stub
  { fitting = "elbow-90-long" },   # behind the flue

  # along the joists
  {pipe='18 ft', heading = "east"},
  { fitting = "terminal-open" }   # faces the lake
  # nothing more
]

# from the crawl space
[[run]]
name = "air"
straight = "24 ft"   # measured
fittings = { "elbow-90-long" = 4, elbow-45 = 1 }
"""
JOB = tomllib.loads(HAND_WRITTEN)


def lines(data: dict[str, Any]) -> list[str]:
    """The hand-written file with this data in it."""
    return rewritten(HAND_WRITTEN, data).splitlines()


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_nothing_changed_nothing_touched(path: Path) -> None:
    """Saving a file as it was read leaves every character of it."""
    text = path.read_text(encoding="utf-8")
    assert layout_of(text).text() == text
    assert rewritten(text, tomllib.loads(text)) == text


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_a_new_file_reads_back(path: Path) -> None:
    """Laid out afresh, a file says the same."""
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    assert same(tomllib.loads(rewritten("", data)), data)


def test_a_new_file_has_a_piece_a_line() -> None:
    """The layout that the format promises, so that a person can go on by hand."""
    text = rewritten("", JOB)
    assert '  { pipe = "2 ft", heading = "up" },\n  { fitting = "elbow-90-long" },\n' in text
    assert text.startswith('title = "Shed"\n\n[[appliance]]\nname = "heater"\n')
    assert "\nfittings = { elbow-90-long = 4, elbow-45 = 1 }\n" in text


def test_a_changed_value_changes_its_line_only() -> None:
    """Comments, quotes and order around it stay."""
    changed = lines(editing.put(JOB, ("run", 0, "pieces", 2, "pipe"), "19 ft"))
    differing = [(a, b) for a, b in zip(HAND_WRITTEN.splitlines(), changed, strict=True) if a != b]
    assert differing[0] == ("  {pipe='18 ft', heading = \"east\"},", "  {pipe='19 ft', heading = \"east\"},")
    assert len(differing) == 2  # the last piece had no comma


def test_comments_stay_with_their_pieces() -> None:
    """A piece put in, taken out or moved takes no other piece's comment, and leaves none of its own."""
    inserted = lines(editing.insert_pieces(JOB, 0, 1, [{"pipe": "1 ft"}]))
    at = inserted.index('  { pipe = "1 ft" },')
    assert inserted[at - 1].endswith("# stub") and inserted[at + 1].endswith("# behind the flue")

    removed = "\n".join(lines(editing.remove_pieces(JOB, 0, [1])))
    assert "behind the flue" not in removed
    assert all(comment in removed for comment in ("up from", "stub", "along the", "faces the lake", "nothing more"))

    moved = lines(editing.move_pieces(JOB, 0, [0], 2))
    at = moved.index("  # up from the collar")
    assert moved[at + 1] == '  { pipe = "2 ft", heading = "up" },   # stub'
    assert moved[at - 1] == "  {pipe='18 ft', heading = \"east\"},"
    assert moved[at - 2] == "  # along the joists"


def test_comments_stay_with_their_runs() -> None:
    """A run moved takes the comment above it along; one removed takes it away, and leaves the banner of all runs."""
    moved = "\n".join(lines(editing.move_item(JOB, ("run", 1), -1)))
    assert moved.index("# from the crawl space\n[[run]]") < moved.index("# out through the wall\n[[run]]")
    removed = "\n".join(lines(editing.clear(JOB, ("run", 0))))
    assert (
        "out through" not in removed and "# ---- runs ----" in removed and "# from the crawl space\n[[run]]" in removed
    )


def test_a_renamed_run_is_the_same_run() -> None:
    """Renaming is no removal: its comments stay."""
    text = "\n".join(lines(editing.rename(JOB, ("run", 1), "air pipe")))
    assert '# from the crawl space\n[[run]]\nname = "air pipe"\nstraight = "24 ft"   # measured' in text


def test_new_keys_stand_where_they_are_used_to() -> None:
    """The site comes before the appliances, wherever it was typed first."""
    text = "\n".join(lines(editing.put(JOB, ("site", "altitude"), "5200 ft")))
    assert '\n\n[site]\naltitude = "5200 ft"\n\n[[appliance]]\n' in text
    assert "collar = " in "\n".join(lines(editing.put(JOB, ("appliance", 0, "collar"), "2 in"))).split("# full fire")[0]


def test_a_note_of_several_lines_stays_readable() -> None:
    """A story is not squeezed into one line of escapes."""
    assert '"""\nOne.\nTwo.\n"""' in rewritten("", {"title": "x", "note": "One.\nTwo.\n"})


ODD_LAYOUTS = [
    'site.altitude = "5 ft"\nsite.indoor = "68 degF"\n[[run]]\nname = "a"\n',
    "[a.b]\nc = 1\n[a]\nd = 2\n[[x]]\ny = [1, [2, 3],\n # one\n 4]\n[x.z]\nw = {}\n",
    'run = [ { name = "a", pieces = [] }, { name = "b" } ] # inline\n',
    '[[run]]\nname = "a"\n[[run.pieces]]\npipe = "1 ft"\n[[run.pieces]]\nfitting = "x"\n[[run]]\nname = "b"\n',
    "a = '''x\n# no comment ]'''\nb = \"\"\"one \\\n  two \"\"\"\"\n\"key with # [\" = [\"]\", '#', '''\n''']\n",
    '[[appliance]]\nname = "p"\n[[run]]\nname = "r"\n[[appliance]]\nname = "q"\n[appliance.more]\nz = 1979-05-27\n',
]


@pytest.mark.parametrize("text", ODD_LAYOUTS)
def test_odd_layouts_are_taken_apart_whole(text: str) -> None:
    """Whatever TOML allows, parts put together are the text, but for tables listed before the one they stand in."""
    assert sorted(layout_of(text).text().splitlines()) == sorted(text.splitlines())
    assert rewritten(text, tomllib.loads(text)) == text


def test_what_toml_cannot_hold_is_said() -> None:
    """Nothing, or a Python object, is no value of a file."""
    with pytest.raises(NotToml):
        rewritten("", {"title": object()})


TEXTS = st.text(st.characters(codec="utf-8", exclude_characters="\r"), max_size=12)
KEYS = st.sampled_from(["name", "pipe", "size", "site", "run", "rate", "pieces", "elbow 9.0", "é"]) | TEXTS
SCALARS = TEXTS | st.booleans() | st.integers(-(2**63), 2**63 - 1) | st.floats(allow_nan=False)
VALUES = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4), max_leaves=12
)
DOCUMENTS = st.dictionaries(KEYS, VALUES, max_size=6)
STARTS = [HAND_WRITTEN, *ODD_LAYOUTS, *(path.read_text(encoding="utf-8") for path in SHIPPED if "demo" in path.stem)]


@given(start=st.sampled_from(["", *ODD_LAYOUTS, HAND_WRITTEN]), data=DOCUMENTS)
def test_any_data_reads_back(start: str, data: dict[str, Any]) -> None:
    """Whatever is written over whatever was there, reading gives it exactly."""
    assert same(tomllib.loads(rewritten(start, data)), data)


@settings(max_examples=100)
@given(start=st.sampled_from(STARTS), draw=st.data())
def test_random_edits_read_back(start: str, draw: st.DataObject) -> None:
    """Edits of a real file, several before each save, saved again and again: never another value than was typed."""
    data, text = tomllib.loads(start), start
    for _ in range(draw.draw(st.integers(1, 3))):
        for _ in range(draw.draw(st.integers(1, 4))):
            before = copy.deepcopy(data)
            changed = edited(data, draw)
            assert same(data, before)
            data = changed
        text = rewritten(text, data)
        assert same(tomllib.loads(text), data)
        assert rewritten(text, data) == text


def edited(data: dict[str, Any], draw: st.DataObject) -> dict[str, Any]:
    """The data with one edit more, somewhere."""
    paths = [path for path in every_path(data, ()) if path]
    if not paths:
        return editing.put(data, ("title",), "x")
    path = draw.draw(st.sampled_from(paths))
    held = editing.value_at(data, path)
    kind = draw.draw(st.sampled_from(["put", "clear", "copy", "move", "key"]))
    if kind == "put":
        return editing.put(data, path, draw.draw(VALUES))
    if kind == "copy" and isinstance(path[-1], int):
        return editing.insert_item(data, path[:-1], held, draw.draw(st.integers(0, 5)))
    if kind == "move" and isinstance(path[-1], int):
        return editing.move_item(data, path, draw.draw(st.integers(-3, 3)))
    if kind == "key" and isinstance(held, dict):
        return editing.put(data, (*path, draw.draw(KEYS)), draw.draw(VALUES))
    return editing.clear(data, path)


def every_path(data: Any, path: editing.Path) -> list[editing.Path]:
    """Where something stands in the data."""
    below: list[Any] = []
    if isinstance(data, dict):
        below = list(data.items())
    elif isinstance(data, list):
        below = list(enumerate(data))
    return [path, *(found for step, value in below for found in every_path(value, (*path, step)))]


@pytest.mark.parametrize("start", [HAND_WRITTEN, *STARTS[-1:]])
def test_no_comment_is_lost_to_a_value(start: str) -> None:
    """A value typed anew, anywhere: every comment of the file stays."""
    data = tomllib.loads(start)
    leaves = [p for p in every_path(data, ()) if not isinstance(editing.value_at(data, p), (dict, list))]
    for path in leaves[:: max(1, len(leaves) // 30)]:
        text = rewritten(start, editing.put(data, path, "typed # anew"))
        assert comments(text) == comments(start), path


def comments(text: str) -> list[str]:
    """The comments of a text, in an order of their own."""
    return sorted(part for kind, part in tokens(text) if kind == "comment")


def test_rooms_readings_and_ticks_are_written_under_headers() -> None:
    """A room laid out by a program reads like one written by hand, its own tables under it."""
    room = {"name": "cellar", "volume": "900 ft³", "other": [{"name": "heater"}], "opening": [{"to": "outdoors"}]}
    made = rewritten("", {**JOB, "room": [room], "reading": [{"rate": "high"}], "checked": [{"rule": "drain"}]})
    assert tomllib.loads(made)["room"] == [room]
    for header in ("[[room]]", "[[room.other]]", "[[room.opening]]", "[[reading]]", "[[checked]]"):
        assert f"\n{header}\n" in made
