"""Screens that ask a question of the open job.

To add one whose answer is text: write its function in `answers.py` and add a line to `QUESTIONS`. To add one with a
screen of its own: write `ventsize/tui/questions/<name>.py` with a class `<Name>Screen` whose constructor takes the
open `Session` and the entry. The menu of the job screen (F9) lists it. Modules are imported when first opened, so
that a question costs nothing before it is asked.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import Any

TEXT = "ventsize.tui.questions.text:TextScreen"


@dataclass(frozen=True, slots=True)
class QuestionEntry:
    """A question as the menu lists it.

    name: in `answers.ANSWERS`, for a text screen. title, answers: what the menu says. screen: `module:Class`; the one
    of its name where none is given.
    """

    name: str
    title: str
    answers: str
    screen: str = ""

    def open(self, session: Any) -> Any:
        """The screen, for a session."""
        named = f"ventsize.tui.questions.{self.name}:{self.name.capitalize()}Screen"
        module, _, name = (self.screen or named).partition(":")
        return getattr(import_module(module), name)(session, self)


QUESTIONS: tuple[QuestionEntry, ...] = (
    QuestionEntry("report", "The whole answer as text", "the check in full, to read through or copy", TEXT),
    QuestionEntry("working", "How the figures come about", "line by line, with units and sources", TEXT),
    QuestionEntry("headroom", "What is left", "length and elbows left, for each size the table has"),
    QuestionEntry("repairs", "What would bring it within", "the smallest changes; or what can be saved"),
    QuestionEntry("options", "Which sizes and elbows will do", "every combination judged, the best first"),
    QuestionEntry("takeoff", "What it takes to build", "order list of pipe, fittings, supports; prices; cut list"),
    QuestionEntry("papers", "Papers to hand over", "this job, or a proposal, as PDF, HTML, Markdown or CSV"),
    QuestionEntry("along", "Along the run", "pressure, temperature, frost and water, on a day as typed"),
    QuestionEntry(
        "inducer",
        "The inducer",
        "how hard it works, where it runs out; adaptive, two speeds or one on a vent made longer by keys",
    ),
    QuestionEntry("uncertainty", "Margin of error", "the result as a range, drawn from cases"),
    QuestionEntry(
        "roomair",
        "Air from the room",
        "rooms, openings and fans: whether it is enough, and what cures it",
        "ventsize.tui.questions.room_air:RoomAirScreen",
    ),
    QuestionEntry(
        "field",
        "At the appliance",
        "readings and check-over one by one, in large figures, for one hand",
        "ventsize.tui.field.start:FieldScreen",
    ),
    QuestionEntry(
        "visit",
        "Report of a visit",
        "for the customer or the office: what was read, what it may be, what is next",
        "ventsize.tui.field.report:VisitReport",
    ),
    QuestionEntry(
        "diagnose",
        "Readings and diagnosis",
        "what explains them, what to read next, each beside what it should be",
        "ventsize.tui.field.listing:ReadingsScreen",
    ),
    QuestionEntry(
        "checkover", "The check-over", "what a careful installer would verify, as a list to read or copy", TEXT
    ),
    QuestionEntry(
        "exercises", "Exercise sheets", "problems for a class with their key; another sheet for each student"
    ),
    QuestionEntry("lesson", "The lesson", "guess first: the questions of a job that is a lesson, with a score"),
    QuestionEntry("compare", "Side by side", "variants of this job, what differs, and what made the difference"),
    QuestionEntry("sweep", "One thing changed", "an elbow in feet by rate, size or method; flow, altitude, elbows"),
)


TAUGHT = ("exercises", "lesson")
"""Those that stand under Teach on the first screen, and not in a job's own menu."""


def ask(app: Any, session: Any, what: str) -> None:
    """Open a report of a job by its name, or the list of them all for "menu"."""
    from ventsize.tui.questions.menu import ReportsMenu

    def chosen(name: str | None) -> None:
        for question in QUESTIONS:
            if question.name == name:
                app.push_screen(question.open(session))

    if what == "menu":
        entries = [(q.name, q.title, q.answers) for q in QUESTIONS if q.name not in TAUGHT]
        app.push_screen(ReportsMenu(session, entries), chosen)
    else:
        chosen(what)
