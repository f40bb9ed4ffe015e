"""What a variant changes, asked for step by step: what, of which, and to what."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.screen import Screen

from ventsize.studies.altering.changes import is_half_turn, is_right_angle
from ventsize.tui.questions.asking import once_given
from ventsize.tui.widgets.ask_line import AskLine
from ventsize.tui.widgets.picker import Picker

Done = Callable[[Any], None]

KINDS: tuple[tuple[str, str, str], ...] = (
    ("fittings", "Change a fitting", "every one of a kind in the run becomes another"),
    ("more", "More of a fitting", "so many more"),
    ("fewer", "Fewer of a fitting", "so many fewer"),
    ("size", "Another size", "of the whole run"),
    ("size_from", "Another size from a piece on", "an increaser or reducer is put in"),
    ("order", "Another order", "the same pieces, by number"),
    ("straight", "More or less straight pipe", "all of it together"),
    ("end", "Another outdoor end", "open, screened, elbow down"),
    ("material", "Another material", "of the whole run"),
    ("input", "Another firing rate", "the highest; the others in proportion"),
    ("excess_air", "Other excess air", "at every rate"),
    ("flue_temperature", "Another flue gas temperature", "at every rate"),
    ("fuel", "Another fuel", "as the tables list it"),
    ("altitude", "Another altitude", "of the site"),
    ("outdoor", "Another outdoor temperature", "for draft and the air pipe"),
)
TYPED = {
    "straight": "straight pipe of the run, such as 40 ft",
    "input": "input at the highest rate, such as 60 MBH",
    "excess_air": "excess air, such as 40 %",
    "flue_temperature": "flue gas temperature, such as 120 degF",
    "altitude": "altitude, such as 7,000 ft",
    "outdoor": "outdoor temperature, such as -10 degF",
}


def ask_for_change(screen: Screen[Any], done: Done) -> None:
    """Ask what is changed; `done` gets the change once it is whole."""

    def chosen(kind: str) -> None:
        _Asking(screen, kind, done).begin()

    screen.app.push_screen(Picker("What the variant changes", KINDS), once_given(chosen))


class _Asking:
    """The questions about one kind of change."""

    def __init__(self, screen: Any, kind: str, done: Done) -> None:
        self._screen, self._kind, self._done = screen, kind, done
        self._inputs = screen.session.inputs

    def begin(self) -> None:
        """The first of them."""
        kind = self._kind
        if kind in TYPED:
            self._line(TYPED[kind], lambda text: {kind: text})
        elif kind in ("fittings", "fewer", "more"):
            self._of_a_fitting()
        elif kind in ("size", "size_from"):
            self._size()
        elif kind == "order":
            count = len(self._run.pieces or ())
            usual = " ".join(str(n) for n in range(1, count + 1))
            self._line("pieces by number in their new order", _order, value=usual)
        else:
            self._name()

    @property
    def _run(self) -> Any:
        """The run that changes, as typed: the first that carries flue gas."""
        runs = self._inputs.job.runs
        return next((run for run in runs if run.carries == "flue gas"), runs[0])

    def _own_fittings(self) -> list[tuple[str, str, str]]:
        run, catalog = self._run, self._inputs.catalog.fittings
        names = run.fittings or {p.fitting: 1 for p in run.pieces or () if hasattr(p, "fitting")}
        return [(name, name, catalog[name].title) for name in names if name in catalog]

    def _all_fittings(self) -> list[tuple[str, str, str]]:
        return [(f.name, f.name, f.title) for f in self._inputs.catalog.fittings.values()]

    def _instead_of(self, name: str) -> list[tuple[str, str, str]]:
        """What may take its place: of a 90, two 45s first; the same one, which changes nothing, last."""
        catalog = self._inputs.catalog
        two = [f for f in catalog.fittings.values() if is_right_angle(name, catalog) and is_half_turn(f.name, catalog)]
        others = [entry for entry in self._all_fittings() if entry[0] != name]
        same = [entry for entry in self._all_fittings() if entry[0] == name]
        return [*((f"{f.name}+{f.name}", f"two {f.name}", f.title) for f in two), *others, *same]

    def _of_a_fitting(self) -> None:
        kind = self._kind
        entries = self._all_fittings() if kind == "more" else self._own_fittings()

        def which(name: str) -> None:
            if kind == "fittings":
                self._pick(f"Every {name} becomes", self._instead_of(name), lambda new: {kind: {name: new.split("+")}})
            else:
                self._line(f"how many {kind} {name}", lambda text: {kind: {name: int(text)}}, value="1")

        self._screen.app.push_screen(Picker("Which fitting", entries), once_given(which))

    def _size(self) -> None:
        material = self._inputs.catalog.pipes[self._run.material]
        entries = [(size.label, size.label, "") for size in material.sizes]
        if self._kind == "size":
            self._pick("The whole run in", entries, lambda label: {"size": label})
            return

        def which(label: str) -> None:
            title = f"{label} from which piece on, counted from 1"
            self._line(title, lambda text: {"size_from": {"piece": int(text), "size": label}})

        self._screen.app.push_screen(Picker("Another size", entries), once_given(which))

    def _name(self) -> None:
        catalog, kind = self._inputs.catalog, self._kind
        if kind == "fuel":
            entries = [(name, name, fuel.title) for name, fuel in catalog.fuels.items()]
        elif kind == "material":
            entries = [(name, name, pipe.title) for name, pipe in catalog.pipes.items()]
        else:
            entries = [(f.name, f.name, f.title) for f in catalog.fittings.values() if f.kind == "terminal"]
        self._pick("Which one", entries, lambda name: {kind: name})

    def _pick(self, title: str, entries: Any, made: Callable[[str], dict[str, Any]]) -> None:
        def chosen(name: str) -> None:
            self._finish(made(name))

        self._screen.app.push_screen(Picker(title, entries), once_given(chosen))

    def _line(self, title: str, made: Callable[[str], dict[str, Any]], *, value: str = "") -> None:
        def typed(text: str) -> None:
            try:
                self._finish(made(text.strip()))
            except ValueError:
                self._screen.notify(
                    f"'{text}' cannot be read; expected whole numbers", severity="warning", markup=False
                )

        self._screen.app.push_screen(AskLine(title, None, value=value), once_given(typed))

    def _finish(self, keys: dict[str, Any]) -> None:
        from ventsize.jobfile.document import validate
        from ventsize.jobfile.lesson import Changed
        from ventsize.jobfile.problems import InputError

        try:
            self._done(validate(keys, Changed, file=""))
        except InputError as error:
            self._screen.notify(str(error.problems[0]), severity="warning", markup=False)


def _order(text: str) -> dict[str, Any]:
    return {"order": [int(word) for word in text.replace(",", " ").split()]}
