"""Undo and redo bring back exactly what was there."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from ventsize.jobfile.history import History, same


def test_typing_is_one_step() -> None:
    """Keystrokes in one field are undone together, those in another field or after a pause are not."""
    history = History({"a": ""})
    for text in ("1", "12", "12 ft"):
        history.do({"a": text}, "set a", at=("a",), typing=True)
    history.do({"a": "12 ft", "b": "x"}, "set b", at=("b",), typing=True)
    history.pause()
    history.do({"a": "12 ft", "b": "xy"}, "set b", at=("b",), typing=True)
    taken = []
    while step := history.undo():
        taken.append((step.at, history.data))
    b, a = ("b",), ("a",)
    assert taken == [(b, {"a": "12 ft", "b": "x"}), (b, {"a": "12 ft"}), (a, {"a": ""})]


def test_a_step_is_named_as_it_was_made() -> None:
    """What undo takes back and redo does again comes with its label; an edit leaves nothing to do again."""
    history = History({})
    assert history.undo() is None and history.redo() is None
    history.do({"a": 1}, "set a")
    for step in (history.undo(), history.redo()):
        assert step is not None and step.label == "set a"
    history.undo()
    history.do({"b": 1}, "set b")
    assert history.redo() is None


def test_nothing_done_is_no_step() -> None:
    """An edit that changes nothing, and typing taken back, leave nothing to undo."""
    history = History({"a": "x"})
    history.do({"a": "x"}, "set a")
    history.do({"a": "xy"}, "set a", at=("a",), typing=True)
    history.do({"a": "x"}, "set a", at=("a",), typing=True)
    assert history.undo() is None and not history.unsaved


def test_unsaved_is_what_differs_from_the_file() -> None:
    """Undone back to the saved state is saved; typing after a save is a step of its own."""
    history = History({"a": 1})
    history.do({"a": 2}, "set a", at=("a",), typing=True)
    assert history.unsaved
    history.mark_saved()
    history.do({"a": 3}, "set a", at=("a",), typing=True)
    assert history.unsaved
    history.undo()
    assert history.data == {"a": 2} and not history.unsaved
    history.undo()
    assert history.unsaved


@given(st.lists(st.tuples(st.integers(0, 5), st.booleans()), max_size=40))
def test_undo_all_redo_all(edits: list[tuple[int, bool]]) -> None:
    """However it was typed, all the way back is the start, and all the way forward the end."""
    history = History({"n": -1})
    for number, typing in edits:
        history.do({"n": number}, "set n", at=("n",), typing=typing)
    end = history.data
    while history.undo():
        pass
    assert history.data == {"n": -1}
    while history.redo():
        pass
    assert history.data == end


def test_kinds_of_number_differ() -> None:
    """1, 1.0 and true are three things to a file."""
    assert not same({"a": 1}, {"a": 1.0}) and not same([True], [1])
    assert same({"a": [float("nan")]}, {"a": [float("nan")]})


def test_work_taken_up_again_is_unsaved_and_has_nothing_before_it() -> None:
    """After a crash there is no empty state to undo to; what was taken up counts as unsaved until it is saved."""
    history = History({"title": "taken up"}, saved={})
    assert history.unsaved and history.undo() is None
    assert history.data == {"title": "taken up"}
    history.mark_saved()
    assert not history.unsaved
