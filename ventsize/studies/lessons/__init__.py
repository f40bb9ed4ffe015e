"""Lessons: a job with questions to guess at before the answer is shown. Every answer is worked out from the job."""

from __future__ import annotations

from ventsize.studies.lessons.doubting import lesson_doubts
from ventsize.studies.lessons.holding import held_lesson
from ventsize.studies.lessons.keeping import (
    KeptMark,
    find_lesson,
    forget_marks,
    keep_marks,
    kept_marks,
    lessons,
    path_of_lessons,
    score_file,
)
from ventsize.studies.lessons.marking import marked, totals
from ventsize.studies.lessons.model import Given, Guess, HeldLesson, Mark, Question, Variant

__all__ = [
    "Given",
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
    "lesson_doubts",
    "lessons",
    "marked",
    "path_of_lessons",
    "score_file",
    "totals",
]
