"""Exercise sheets for a class, with a key whose every line comes from the solver."""

from __future__ import annotations

from ventsize.studies.exercises.model import LEVELS, Asked, Exercise, Pictured, Sheet
from ventsize.studies.exercises.sheet import MIXED, MOST_EXERCISES, TOPICS, sheet

__all__ = ["LEVELS", "MIXED", "MOST_EXERCISES", "TOPICS", "Asked", "Exercise", "Pictured", "Sheet", "sheet"]
