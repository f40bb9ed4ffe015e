"""Solves exercise sheets from what is printed on them, and nothing else, rounding every result to three digits.

The reader has the text of a sheet: givens, formulas with their constants, the story, the table and its rule. It knows
+ - × / ^ log10 sqrt, how to read a length, and what the words of the questions ask. It never sees the program's own
objects. Every answer it comes to must be right by the printed key.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field

from tests.studies.printed import FUNCTIONS, SYMBOL, Reader
from ventsize.report.exercises.as_text import key_text, sheet_text
from ventsize.studies.exercises import Sheet

NUMBER = r"-?\d[\d,]*\.?\d*(?:×10\^-?\d+)?"
LENGTH = r"(?:[\d,.]+ ft(?: \d+(?: \d+/\d+)? in)?|\d+(?: \d+/\d+)? in|[\d.]+ m|not permitted)"
DIGITS = 3


def rounded(value: float, digits: int = DIGITS) -> float:
    """As it is written down on the way."""
    return float(f"{value:.{digits}g}")


def number_of(text: str) -> float:
    """A printed number, also with a power of ten."""
    found, _, power = text.replace(",", "").partition("×10^")
    return float(found) * 10.0 ** int(power or 0)


def length_of(text: str) -> float:
    """A printed length in meters."""
    if text.endswith(" m"):
        return number_of(text[:-2])
    feet = re.search(r"([\d,.]+) ft", text)
    inches = re.search(r"(?:^|ft )(\d+)(?: (\d+)/(\d+))? in", text)
    value = float(feet[1].replace(",", "")) * 0.3048 if feet else 0.0
    if inches:
        value += (float(inches[1]) + (float(inches[2]) / float(inches[3]) if inches[2] else 0.0)) * 0.0254
    return value


@dataclass
class Question:
    """A printed question: its words, its choices by number, the unit of its number."""

    text: str
    choices: list[str] = field(default_factory=list)


@dataclass
class Exercise:
    """What is printed of one exercise."""

    story: str
    givens: dict[str, float]
    formulas: dict[str, str]
    rows: list[dict[str, str]]
    questions: list[Question]
    known: dict[str, float] = field(default_factory=dict)

    def value(self, symbol: str) -> float:
        """A symbol's number: given, or by its formula from numbers rounded before."""
        if symbol in self.givens:
            return self.givens[symbol]
        if symbol not in self.known:
            if symbol == "f" and "f[laminar]" in self.formulas:
                self.known[symbol] = self.value("f[laminar]" if self.value("Re") < 2000 else "f[turbulent]")
            else:
                self.known[symbol] = rounded(self.worked_out(self.formulas[symbol]))
        return self.known[symbol]

    def worked_out(self, formula: str) -> float:
        """A formula with numbers in place of its symbols."""

        def put_in(found: re.Match[str]) -> str:
            if found[0] in FUNCTIONS:
                return found[0]
            value = self.value(found[0])
            return f"({value:.12f})" if value >= 0 else f"(0 - {-value:.12f})"

        return Reader(re.sub(SYMBOL, put_in, formula)).value()

    # The table, by the rule that is printed below it

    @property
    def pieces(self) -> dict[str, list[tuple[str, float]]]:
        """Each vent told of: its pieces or counts, with their lengths."""
        found = {}
        for title, told in re.findall(
            r"(The vent|Vent A|Vent B) is .*?\. (?:Its pieces:|It has) (.*?)\.(?= [A-Z]|$)", self.story
        ):
            found[title] = [piece for part in told.split("; ") for piece in _piece(part)]
        return found

    @property
    def listed(self) -> dict[str, float]:
        """The list of fittings."""
        found = re.search(r"The list of fittings: (.*?)\.(?= How| Count|$)", self.story)
        pairs = (re.fullmatch(rf"(.*?) ({LENGTH})", part) for part in (found[1].split("; ") if found else ()))
        return {pair[1]: length_of(pair[2]) for pair in pairs if pair}

    def straight(self, title: str = "The vent") -> float:
        """All its pipe."""
        return math.fsum(length for name, length in self.pieces[title] if name == "pipe")

    def counted(self, title: str = "The vent") -> float | None:
        """Straight pipe and fittings; None where one is not in the list."""
        names = [name for name, _ in self.pieces[title] if name != "pipe"]
        if any(name not in self.listed for name in names):
            return None
        return self.straight(title) + math.fsum(self.listed[name] for name in names)

    def governing(self) -> tuple[list[dict[str, str]], dict[str, str] | None]:
        """The rows that hold, and the one that governs; None where there is none."""
        size = re.search(r"is (.*?) pipe \(", self.story)
        told = re.search(r"input of ([\d,.]+ \S+) stands at an altitude of (.*?)\.(?= |$)", self.story)
        assert size and told
        power, altitude = number_of(told[1].split()[0]), length_of(told[2])
        rows = [row for row in self.rows if row["size"] == size[1]]
        rows = [r for r in rows if _band(r)[0] - 1e-6 <= altitude <= _band(r)[1] + 1e-6]
        inputs = {number_of(row["input"].split()[0]) for row in rows}
        if not inputs or not min(inputs) <= power <= max(inputs):
            return [], None
        beside = {max(i for i in inputs if i <= power), min(i for i in inputs if i >= power)}
        rows = [row for row in rows if number_of(row["input"].split()[0]) in beside]
        return rows, min(rows, key=lambda row: self.allowed(row))

    @property
    def elbows(self) -> int:
        """90° elbows, two of 45° for one."""
        names = [name for name, _ in self.pieces["The vent"]]
        return sum("90° elbow" in name for name in names) + -(-sum("45° elbow" in name for name in names) // 2)

    def allowed(self, row: dict[str, str]) -> float:
        """What a row allows this vent; 0 where it permits nothing."""
        column = "allowable" if "allowable" in row else "straight" if not self.elbows else (
            f"{self.elbows} elbow{'s' if self.elbows > 1 else ''}")  # fmt: skip
        text = row.get(column, "not permitted")
        return 0.0 if text == "not permitted" else length_of(text)

    def verdict(self) -> str:
        """By the printed rule."""
        _, row = self.governing()
        if row is None:
            return "not covered"
        by_elbows = "allowable" not in row
        length = self.straight() if by_elbows else self.counted()
        if length is None:
            return "incomplete"
        if length > self.allowed(row) + 1e-6:
            return "over"
        least = row.get("at least, straight")
        return "short" if least and self.straight() < length_of(least) - 1e-6 else "within"

    # The questions, by their words

    def answer(self, question: Question) -> float | str:
        """A number in the unit asked for, or the words of a choice."""
        for pattern, solve in ANSWERS.items():
            found = re.match(pattern, question.text)
            if found:
                return solve(self, question, found)
        raise AssertionError(f"nothing printed says how to answer: {question.text}")

    def in_unit(self, meters: float) -> float:
        """A length in the unit of the class."""
        return meters / (1.0 if " m" in self.rows[0]["altitude"] else 0.3048)


def _find(one: Exercise, _question: Question, found: re.Match[str]) -> float | str:
    symbol = found[1]
    if symbol == "L[t]":
        return one.in_unit(one.counted() or 0.0)
    if symbol == "L[left]":
        return one.in_unit(one.allowed(one.governing()[1] or {}) - (one.counted() or 0.0))
    return one.value(symbol)


def _regime(one: Exercise, *_: object) -> str:
    return "laminar" if one.value("Re") < 2000 else "turbulent"


def _smallest(one: Exercise, question: Question, _found: object) -> str:
    limit = re.search(rf"not to go faster than ({NUMBER})", one.story)
    assert limit
    return next(c for n, c in enumerate(question.choices, 1) if one.value(f"v[{n}]") <= number_of(limit[1]))


def _falls(one: Exercise, *_: object) -> str:
    return "by a larger share" if one.value("r") < one.value("s") else "by a smaller share"


def _same_feet(one: Exercise, *_: object) -> str:
    ratio = one.value("L[e,low]") / one.value("L[e,high]")
    return "the same" if abs(ratio - 1.0) < 0.15 else "more at low fire" if ratio > 1 else "more at high fire"


def _most(one: Exercise, *_: object) -> str:
    parts = {symbol: value for symbol, value in one.givens.items() if symbol.startswith("Δp[")}
    return re.sub(r"\D", "", max(parts, key=lambda symbol: parts[symbol]))


def _governs(one: Exercise, *_: object) -> str:
    return (one.governing()[1] or {})["input"]


def _more_elbows(one: Exercise, *_: object) -> float:
    left = one.allowed(one.governing()[1] or {}) - (one.counted() or 0.0)
    return float(math.floor(left / one.listed["90° elbow, long turn"]))


def _longer(one: Exercise, *_: object) -> str:
    a, b = one.counted("Vent A") or 0.0, one.counted("Vent B") or 0.0
    return "the same for both" if abs(a - b) < 1e-6 else "A" if a > b else "B"


ANSWERS = {
    rf"Find ({SYMBOL}), the": _find,
    r"With the same input, does it burn": lambda one, *_: "the same",
    r"Is the flow laminar or turbulent": _regime,
    r"Which is the smallest of these sizes": _smallest,
    r"From high to low fire, by what share": _falls,
    r"How many whole elbows": lambda one, *_: float(math.floor(one.value("n"))),
    r"Is it worth the same straight pipe": _same_feet,
    r"Which piece loses most": _most,
    r"How many 90° elbows does the table count": lambda one, *_: float(one.elbows),
    r"How much straight pipe does it allow": lambda one, *_: one.in_unit(one.allowed(one.governing()[1] or {})),
    r"Which row governs": _governs,
    r"How many more long-turn": _more_elbows,
    r"What is the verdict": lambda one, *_: one.verdict(),
    r"Which is longer by the table": _longer,
    r"Which loses more pressure": lambda one, *_: "A" if one.value("K[A]") > one.value("K[B]") else "B",
    r"How much more": lambda one, *_: abs(one.value("Δp[A]") - one.value("Δp[B]")),
}


def _piece(text: str) -> list[tuple[str, float]]:
    """One part of a story: a pipe with its length, or a fitting as often as it says."""
    text = re.sub(r"^\d+\) ", "", text)
    pipe = re.match(rf"({LENGTH}) (?:up|down|north|south|east|west|of straight pipe|of pipe)$", text)
    if pipe:
        return [("pipe", length_of(pipe[1]))]
    count, _, name = text.rpartition(" × ")
    return [(name, 0.0)] * int(count or 1)


def _band(row: dict[str, str]) -> tuple[float, float]:
    low, high = row["altitude"].split(" to ")
    return length_of(low), length_of(high)


def printed(text: str) -> list[Exercise]:
    """The exercises of a printed sheet."""
    return [_exercise(part) for part in re.split(r"\nExercise \d+\. [^\n]*\n", text)[1:]]


def _exercise(text: str) -> Exercise:
    parts: dict[str, list[str]] = {"story": [], "Given": [], "Formulas": [], "questions": []}
    where = "story"
    for line in text.split("\n"):
        if line.strip() in ("Given", "Formulas"):
            where = line.strip()
        elif re.match(r"   [a-z]\) ", line):
            where = "questions"
            parts[where].append(line.strip())
        elif where == "story":
            parts[where].append(line)
        elif "answer ____" not in line and line.strip():
            begins = where != "questions" and re.match(r"     \S", line)
            if begins:
                parts[where].append(line.strip())
            else:
                parts[where][-1] += " " + line.strip()
    givens = (re.match(rf"({SYMBOL}) = ({NUMBER})(?: |$)", line) for line in parts["Given"])
    formulas = (re.match(rf"({SYMBOL}) = (.*?);", line) for line in parts["Formulas"])
    return Exercise(
        story=" ".join(" ".join(line for line in parts["story"] if re.match(r"   \S", line)).split()),
        givens={found[1]: number_of(found[2]) for found in givens if found},
        formulas={found[1]: found[2] for found in formulas if found},
        rows=_rows(parts["story"]),
        questions=[_question(line) for line in parts["questions"]],
    )


def _question(line: str) -> Question:
    text = line[3:]
    choices = re.findall(r"\(\d+\) (.*?)(?=, \(\d+\) |$)", text)
    return Question(text, choices)


def _rows(lines: list[str]) -> list[dict[str, str]]:
    """The rows of the table: in columns, or a paragraph a row."""
    heads: list[str] = []
    rows = []
    for at, line in enumerate(lines):
        cells = re.split(r"  +", line.strip())
        if cells[:3] == ["input", "size", "altitude"]:
            heads = cells
        elif heads and len(cells) == len(heads) and re.match(r"[\d,.]+ (?:Btu/h|kW)", cells[0]):
            rows.append(dict(zip(heads, cells, strict=True)))
        elif re.match(r"\s+[\d,.]+ (?:Btu/h|kW), ", line):
            whole = line.strip()
            for more in lines[at + 1 :]:
                if re.match(r"       \S", more):
                    whole += " " + more.strip()
                else:
                    break
            first, _, lengths = whole.partition(": ")
            row = dict(zip(("input", "size", "altitude"), first.split(", "), strict=True))
            pairs = (re.fullmatch(rf"(.*?) ({LENGTH})", part) for part in lengths.split("; "))
            rows.append(row | {pair[1]: pair[2] for pair in pairs if pair})
    return rows


def mark(sheet: Sheet) -> str:
    """Solve a sheet from its print and mark it by its printed key; returns the printed sheet."""
    text = sheet_text(sheet)
    keys = re.split(r"\nExercise \d+\. [^\n]*\n", key_text(sheet))[1:]
    exercises = printed(text)
    assert len(keys) == len(exercises) == len(sheet.exercises)
    for exercise, key in zip(exercises, keys, strict=True):
        right = " ".join(key.split("\n\n")[0].split())
        answers = re.findall(r"(?:^| )[a-z]\) (.*?)(?= [a-z]\) |$)", right)
        assert len(answers) == len(exercise.questions)
        used: set[str] = set()
        for question, expected in zip(exercise.questions, answers, strict=True):
            found = exercise.answer(question)
            used |= exercise.known.keys()
            _compare(exercise, question, found, expected)
        assert_needed(exercise)
    return text


def _compare(exercise: Exercise, question: Question, found: float | str, expected: str) -> None:
    if isinstance(found, str):
        said = re.match(r"\((\d+)\) (.*?)\. ", expected + " ")
        assert said and said[2] == found, (exercise, question, found, expected)
        if question.choices:
            assert len(set(question.choices)) == len(question.choices) >= 2
            assert question.choices[int(said[1]) - 1] == found
        return
    said = re.match(rf"{SYMBOL} = ({NUMBER})", expected)
    assert said, expected
    near = re.search(rf"right from ({NUMBER}) to ({NUMBER})", expected)
    low, high = (number_of(near[1]), number_of(near[2])) if near else (number_of(said[1]),) * 2
    assert low - 1e-9 <= found <= high + 1e-9, (exercise, question, found, expected)


def assert_needed(exercise: Exercise) -> None:
    """Every given stands in a formula or a question, and has no more digits than an apprentice types."""
    formulas = " ".join(exercise.formulas.values())
    for symbol, value in exercise.givens.items():
        assert symbol in re.findall(SYMBOL, formulas), (symbol, exercise)
        assert math.isclose(value, rounded(value, DIGITS), rel_tol=1e-9), (symbol, value)
