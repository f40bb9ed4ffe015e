"""A run in full: by the table with its rows, by calculation, the pressure along it, and where the loss goes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from ventsize.allowance.answer import TableAnswer
from ventsize.check.rate import RunRate
from ventsize.check.result import RunCheck
from ventsize.quantity import show_feet, show_length, show_power, show_pressure, show_velocity
from ventsize.report.check_text import FIGURES
from ventsize.report.job_paper.customer import picture_figure, pictures_first, sizes_of
from ventsize.report.job_paper.material import Material
from ventsize.report.job_paper.pictures import pressure_along
from ventsize.report.paper import Block, Bullets, Column, Figure, Heading, Paragraph, Table
from ventsize.report.wording import reason, say

_BESIDE = 3  # rates that have room beside each other
_CHART = 145.0  # pt high, so that two runs have room in six pages


def run_pages(material: Material, run: RunCheck) -> Iterator[Block]:
    """Everything about one run."""
    yield Heading(f"{run.run.name}: {run.run.carries}, {run.run.start} to {run.run.end}")
    yield Paragraph(_about(material, run))
    if not pictures_first(material.check):
        yield picture_figure(run.run, material.system)
    yield Heading("By the table", 3)
    yield from _by_table(material, run)
    yield Heading("By calculation", 3)
    yield from _by_calculation(material, run)
    yield Figure(pressure_along(run, material.system, height=_CHART), _chart_caption(material, run))
    yield _pieces(material, run)
    yield from _marks(run)


def _about(material: Material, run: RunCheck) -> str:
    materials = ", ".join(dict.fromkeys(piece.section.material.title for piece in run.run.pieces))
    straight = show_length(run.run.straight_length, material.system)
    serves = f"{', '.join(run.serves)}, {show_power(run.input, material.system)} in all"
    return f"Serves {serves}. {straight} of straight pipe, {sizes_of(run.run)}; {materials}."


def _by_table(material: Material, run: RunCheck) -> Iterator[Block]:
    answer = run.table
    if answer is None:
        yield Paragraph(f"No answer: {reason(run.decides, material.system, with_run=False)}")
        return
    yield Paragraph(reason(answer.decides, material.system, with_run=False))
    table = material.inputs.tables.get(run.table_file or "")
    if table is not None:
        yield Paragraph(f"Table: {table.title} ({Path(table.file).name}). Copied from: {table.source}.", small=True)
    if answer.note:
        yield Paragraph(f"The table notes: {answer.note}")
    yield from _rows_used(material, answer)
    yield from _counted(material, answer)


def _rows_used(material: Material, answer: TableAnswer) -> Iterator[Block]:
    """The rows that were read, as the table writes them."""
    if not answer.rows:
        return
    columns = (
        Column("Row", share=0.6),
        Column("Input"),
        Column("Size", share=0.8),
        Column("Altitude", share=1.8),
        Column("Allowed", share=2.0),
        Column("Least", share=0.8),
    )
    rows = tuple(
        (
            str(row.number),
            row.input_label,
            row.size_label,
            row.band_label,
            _allowed(row.length_labels, row.counts_elbows),
            "-" if row.minimum is None else show_length(row.minimum, material.system),
        )
        for row in answer.rows
    )
    yield Table(columns, rows, "Rows of the table that were used, as typed")


def _allowed(labels: tuple[str, ...], by_elbows: bool) -> str:
    if not by_elbows:
        return ", ".join(labels)
    return "; ".join(f"{number} elbows {label}" for number, label in enumerate(labels))


def _counted(material: Material, answer: TableAnswer) -> Iterator[Block]:
    """How the length compared is made up."""
    system = material.system
    rows = [("straight pipe", "", "", show_length(answer.straight_length, system), "the job")]
    rows += [
        (
            f"{line.fitting}, begun pairs" if line.pairs else line.fitting,
            "" if line.origin == "material" else str(line.count),
            show_length(line.each, system),
            show_length(line.total, system),
            {"table": "the table", "override": "the job's own", "material": "more, by the table"}[line.origin],
        )
        for line in answer.deductions
    ]
    totals = 0
    if answer.equivalent_length is not None:
        rows.append(("length compared", "", "", show_length(answer.equivalent_length, system), ""))
        totals = 1
    columns = (
        Column("What", share=2.2),
        Column("How many", "right"),
        Column("Each", "right", 1.2),
        Column("Together", "right", 1.2),
        Column("By", share=1.2),
    )
    yield Table(columns, tuple(rows), "How the length compared with the table comes about", totals)
    yield Paragraph("; ".join(_held_against(material, answer)) + ".")


def _held_against(material: Material, answer: TableAnswer) -> Iterator[str]:
    system, allowed = material.system, answer.allowable_length
    yield "Not permitted" if allowed is None else f"Allowed: {show_length(allowed, system)}"
    if answer.elbows is not None:
        yield f"90° elbows counted: {answer.elbows}"
    if answer.minimum_length is not None:
        yield f"least length stated: {show_length(answer.minimum_length, system)}"
    if answer.used is not None:
        yield f"used of what is allowed: {answer.used:.0%}"


def _by_calculation(material: Material, run: RunCheck) -> Iterator[Block]:
    system = material.system
    yield Paragraph(
        f"As length of straight {run.reference_section.label} pipe, and as pressure, at each firing rate. "
        "The allowance is what straight pipe of the length allowed would lose."
    )
    if len(run.rates) <= _BESIDE:
        columns = (Column("What", share=1.2), *(Column(rate.name, "right", 1.6) for rate in run.rates))
        rows = [
            (label.strip().capitalize(), *(value(run, rate, system) for rate in run.rates)) for label, value in FIGURES
        ]
        yield Table(columns, tuple(rows), "By calculation")
    else:
        yield _rates_below(material, run)
    if run.difference:
        yield Paragraph(say(run.difference, material.system, place=False))
    cautions = dict.fromkeys(said for rate in run.rates if not rate.flow.settled for said in (_unsettled(rate),))
    if cautions:
        yield Bullets(tuple(cautions))


def _unsettled(rate: RunRate) -> str:
    return f"At {rate.name} the calculation did not settle: its figures are no answer."


def _rates_below(material: Material, run: RunCheck) -> Table:
    """A row a rate, for appliances that share a vent and fire in many combinations."""
    shown = [(label, value) for label, value in FIGURES if "low to high" not in label and "gas at" not in label]
    columns = (Column("Firing", share=2.2), *(Column(label.capitalize(), "right") for label, _ in shown))
    rows = (
        (rate.name, *(value(run, rate, material.system).split(" (")[0] for _, value in shown)) for rate in run.rates
    )
    return Table(columns, tuple(rows), "By calculation")


def _chart_caption(material: Material, run: RunCheck) -> str:
    said = f"The total pressure still to be lost, from {run.run.start} to {run.run.end}; a fitting is a step."
    allowed = run.worst.budget_pressure
    if allowed is None:
        said += " There is no allowance to hold it against."
    else:
        said += f" Dotted: {show_pressure(allowed, material.system)}, the allowance at {run.worst.name}."
    if run.worst.flow.junctions:
        said += " What is lost where runs meet is not in it."
    return said


def _pieces(material: Material, run: RunCheck) -> Table:
    columns = (
        Column("No.", "right", 0.5),
        Column("Piece", share=2.2),
        Column("Size", share=0.9),
        Column("Velocity", "right", 1.2),
        Column("K", "right", 0.7),
        Column("Loss", "right", 1.4),
        Column("As pipe", "right", 1.0),
        Column("Share", "right", 0.7),
    )
    return Table(columns, tuple(_piece_rows(material, run.worst)), f"Piece by piece, at {run.worst.name}")


def _piece_rows(material: Material, rate: RunRate) -> Iterator[tuple[str, ...]]:
    system = material.system
    pieces = zip(rate.flow.pieces, rate.piece_lengths, rate.piece_shares, strict=True)
    for number, (piece, length, share) in enumerate(pieces, start=1):
        name = f"pipe {show_length(piece.piece.length, system)}" if piece.piece.is_pipe else piece.piece.name
        mark = "*" if piece.overridden or piece.piece.implied else ""
        figures = (piece.at.velocity, piece.k, piece.pressure_drop, length, share)
        yield (str(number), name + mark, piece.piece.section.label, *_figures(material, *figures))
    joints = zip(rate.flow.junctions, rate.junction_lengths, rate.junction_shares, strict=True)
    for loss, length, share in joints:
        figures = (loss.at.velocity, loss.k, loss.pressure_drop, length, share)
        yield ("", f"{loss.fitting} at {loss.joint}", loss.section.label, *_figures(material, *figures))


def _figures(
    material: Material, velocity: float, k: float, loss: float, length: float | None, share: float | None
) -> tuple[str, ...]:
    system = material.system
    return (
        show_velocity(velocity, system),
        f"{k:.2f}",
        show_pressure(loss, system),
        "-" if length is None else show_feet(length, system),
        "-" if share is None else f"{share:.0%}",
    )


def _marks(run: RunCheck) -> Iterator[Block]:
    if any(piece.overridden or piece.piece.implied for piece in run.worst.flow.pieces):
        yield Paragraph("* the job's own figure, or a piece that is there without being listed", small=True)
