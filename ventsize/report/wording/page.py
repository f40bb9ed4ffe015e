"""Words for the findings of `finding.codes.PAGE`: what a page asks for beside the length, and what in it looks odd."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from ventsize.finding import Amount

if TYPE_CHECKING:
    from ventsize.report.wording import Values

TO_SAY = {
    "pipes": "where the appliance takes its air from: enter its air pipe, or say air = 'room'",
    "ends": "which end the run has outdoors: enter the terminal or the entrance",
    "air_size": "the size of the other pipe: enter its run",
}
SLIPS = {
    "swapped": "two digits swapped", "shifted": "a digit too few or too many, or a misplaced point",
    "wrong digit": "one wrong digit",
}  # fmt: skip


def texts(values: Values, name: str) -> tuple[str, ...]:
    """A value that is a list of texts."""
    found = values.raw.get(name, ())
    return found if isinstance(found, tuple) else (str(found),)


def _semicolons(values: Values, name: str) -> str:
    return "; ".join(texts(values, name))


def _row(values: Values) -> str:
    return f"Row {values.where.row} ({values['label']})"


def _case_not_said(values: Values) -> str:
    asked = "; and ".join(TO_SAY[name] for name in texts(values, "unknown"))
    cases = _semicolons(values, "conditions")
    return f"Say {asked}. The rows for {values['size']} pipe are for certain cases only ({cases})."


def _row_for_case(values: Values) -> str:
    named = _semicolons(values, "conditions")
    return f"The row used is for {named}, and that is so." if named else "The row used holds for every case."


def _footnotes_open(values: Values) -> str:
    quoted = " and ".join(f'"{text}"' for text in texts(values, "footnotes"))
    return f"The table has a footnote that must be confirmed for this job: {quoted}"


def _lie(word: str) -> dict[str, str | Callable[[Values], str]]:
    """Words of the limits to level and to rising pipe."""
    return {
        f"{word}-within": f"{{found}} of pipe {LIES[word]}; the table permits {{most}}.",
        f"{word}-over": f"{{found}} of pipe {LIES[word]}, {{beyond}} more than the {{most}} that the table permits.",
        f"{word}-not-said": f"{{found}} of pipe {LIES[word]}, and {{unsaid}} does not say which way it runs. The table "
        "permits {most}: give the pipes a heading.",
        f"{word}-not-laid-out": f"The table permits {{most}} of pipe that {LIES[word]}. This run is counted, not laid "
        "out, and longer than that: lay it out.",
    }


LIES = {"level": "is not vertical", "rise": "goes up"}


def _shares(values: Values) -> str:
    used = values.raw["used"]
    assert isinstance(used, Amount)
    return f"{', '.join(texts(values, 'sizes'))}: together {used.value:.1%} of what the table allows for each size"


def _exposed_pipe(values: Values) -> str:
    size, outdoor, insulation = texts(values, "labels")
    return f"{values['allowed']} permitted for {size} at {outdoor} with {insulation} of insulation"


def _exposed_over(values: Values) -> str:
    return f"{values['found']} of pipe is in unheated space, {values['beyond']} more than the {_exposed_pipe(values)}."


def _exposed_within(values: Values) -> str:
    return f"{values['found']} of pipe is in unheated space; {_exposed_pipe(values)}."


def _pressure_unlikely(values: Values) -> str:
    elbows = f" with {values['elbows']} elbows" if values.raw.get("elbows") else ""
    taken = f"{_row(values)}: {values['typed']}{elbows} would take {values['pressure']}"
    if "limit" in values.raw:
        than = f"more than any appliance of this kind leaves for the vent ({values['limit']})"
    elif values.raw["least"] == values.raw["most"]:
        than = f"and the others come to {values['least']}"
    else:
        than = f"and the others come to {values['least']} to {values['most']}"
    asked = f" Did you mean {values['meant']} ({SLIPS[str(values.raw['slip'])]})?" if "meant" in values.raw else ""
    return f"{taken}, {than}.{asked}"


def _longer(where: str) -> Callable[[Values], str]:
    def words(values: Values) -> str:
        return (
            f"{_row(values)} allows more {where} ({values['allowed']}) than row {values['other_row']} "
            f"({values['other_label']}) does ({values['other_allowed']}). Check both."
        )

    return words


def _more_with_more(values: Values) -> str:
    count = values.raw["elbows"]
    assert isinstance(count, int)
    return (
        f"{_row(values)} allows more with {count} elbows ({values['allowed']}) than with {count - 1} "
        f"({values['with_fewer']}). Check both."
    )


def _far(end: str) -> Callable[[Values], str]:
    def words(values: Values) -> str:
        first, *others = texts(values, "sizes")
        also = f" (and in {', '.join(others)})" if others else ""
        return (
            f"{values['fitting']} deducts {values['deducted']} in {first}{also}, where the calculation gives "
            f"{values['least']:decimal} to {values['most']:decimal}. Check it{end}"
        )

    return words


WORDS: dict[str, str | Callable[[Values], str]] = {
    "altitude-confirmed": "The job confirms that the table holds at {altitude:altitude}.",
    "altitude-factor-applied": "At {altitude:altitude} the table allows {share} of its figure.",
    "altitude-needs-no-word": "The table needs no confirmation at {altitude:altitude}.",
    "altitude-not-confirmed": "The table names no altitude, and the site is at {altitude:altitude}. Ask the maker "
    'whether it holds there, then confirm: "{text}"',
    "case-not-said": _case_not_said,
    "deduction-below-easier": "{fitting} deducts {deducted} in {size}, less than {easier: and} ({easier_deducted}), "
    "which loses less. Check both.",
    "deduction-leaps": "{fitting} deducts {deducted} in {size} but {other_deducted} in {other_size}. Check both.",
    "deduction-misses-sizes": "No deduction for {fitting} in {sizes:,}, which the rows have: such a run is incomplete.",
    "deduction-too-large": _far("."),
    "deduction-too-small": _far("; too small a deduction passes a vent that is too long."),
    "design-outdoor-missing": "{length} of pipe is in unheated space, and the table limits that by the coldest day. "
    "Give the site's design_outdoor.",
    "difference-over": "The straight lengths of vent and air differ by {found}, {beyond} more than the {most} that the "
    "table permits.",
    "difference-within": "The straight lengths of vent and air differ by {found}; the table permits {most}.",
    "exposed-not-in-table": "{found} of pipe is in unheated space, and the table lists none for {size} with "
    "{insulation} of insulation at {outdoor}.",
    "exposed-over": _exposed_over,
    "exposed-within": _exposed_within,
    "footnotes-confirmed": "The job confirms the table's footnotes.",
    "footnotes-open": _footnotes_open,
    "input-elsewhere-in-table": "The table lists an input of {input}, but not for {size} pipe at this altitude (it has "
    "{rows:;}). Rows for other inputs do not stand in for it.",
    **_lie("level"),
    "longer-at-higher-altitude": _longer("at the higher altitude"),
    "longer-at-larger-input": _longer("at the larger input"),
    "longer-in-smaller-size": _longer("in the smaller size"),
    "material-counts-less": "One foot of {material} counts as {factor} of a foot. Check it: rougher pipe counts more.",
    "mixed-sizes-shared": "Mixed sizes ({sizes}): the shares that each size uses of its own allowance add up.",
    "more-with-more-elbows": _more_with_more,
    "name-not-known": "{kind} '{name}' is not known here; expected {expected}.",
    "no-deductions": "No deductions are typed in, so that only straight pipe can be judged: a run with any elbow, tee "
    "or wye comes out incomplete, never within.",
    "no-row-for-case": "The rows for {size} pipe at this altitude and input hold for other cases only: {conditions:;}.",
    "nothing-exposed": "No pipe is in unheated space.",
    "nothing-left-at-altitude": "At this altitude the table's factor leaves nothing of the allowance.",
    "one-pipe": "The appliance takes its air from the room, so there is one pipe.",
    "other-pipe-not-known": "The table compares vent and air pipe, and the other pipe is not in the job. Enter its "
    "run, or say air = 'room'.",
    "pressure-not-known": "The row permits a pressure of {limit}, and the loss is not known.",
    "pressure-not-length": "The row used gives a pressure instead of a length.",
    "pressure-over": "The run loses {found} at its highest rate, and the row used permits {limit}.",
    "pressure-uncertain": "The run loses {found} at its highest rate, of {limit} permitted, but may lose up to {high}: "
    "too close to tell.",
    "pressure-within": "The run loses {found} at its highest rate, {high} at most; the row used permits {limit}.",
    **_lie("rise"),
    "row-above-any-house": "The row reaches up to {altitude}, where hardly any house stands. Check it.",
    "row-for-case": _row_for_case,
    "row-pressure-not-known": "What the row comes to as pressure cannot be worked out: {why}.",
    "row-pressure-unlikely": _pressure_unlikely,
    "shares-over": lambda values: f"{_shares(values)}, more than 100 %.",
    "shares-within": lambda values: f"{_shares(values)}.",
    "sizes-alike": "Vent and air pipe have the same size.",
    "sizes-differ": "The table asks for one size of vent and air pipe, and they differ.",
    "surroundings-not-said": "{length} of pipe does not say what it runs through, and the table limits pipe in "
    "unheated space. Give the run its surroundings.",
    "usual-deductions-missing": "No deduction for {fittings:,}: a run that has one comes out incomplete, never within.",
}
