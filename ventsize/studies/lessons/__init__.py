"""Lessons: a job with questions to guess at before the answer is shown. Every answer is worked out from the job."""

from __future__ import annotations

from ventsize.studies.lessons.holding import held_lesson, said_value, unit_asked
from ventsize.studies.lessons.keeping import (
    KeptMark,
    find_lesson,
    forget_marks,
    keep_marks,
    kept_marks,
    lessons,
    score_file,
)
from ventsize.studies.lessons.marking import marked, read_guess, totals
from ventsize.studies.lessons.model import Guess, HeldLesson, Mark, Question, Variant

__all__ = [
    "Guess",
    "HeldLesson",
    "KeptMark",
    "Mark",
    "Question",
    "Variant",
    "find_lesson",
    "forget_marks",
    "held_lesson",
    "keep_marks",
    "kept_marks",
    "lessons",
    "marked",
    "read_guess",
    "said_value",
    "score_file",
    "totals",
    "unit_asked",
]
