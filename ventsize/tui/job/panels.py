"""What the job screen says beside its list, as text: its title, results, cautions, charts."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from rich.text import Text

from ventsize.check.result import JobCheck, RunCheck
from ventsize.jobfile.editing import value_at
from ventsize.jobfile.job import OUTDOORS
from ventsize.jobfile.problems import Problem
from ventsize.quantity import Dimension, System, display_unit, display_value, show_feet, show_pressure
from ventsize.report.along import axis_marks, marks_key
from ventsize.report.reach import reach_in_words
from ventsize.report.sketch import OPEN_END, START, TOO_SMALL, TURN, UPRIGHT, sketch
from ventsize.report.wording import cautions_of, reason, say
from ventsize.run.route import route_of
from ventsize.studies.profile import loss_along, marks_along
from ventsize.tui.job.session import Session
from ventsize.tui.widgets.chart import Line, line_chart
from ventsize.tui.widgets.text import fitted, one_line

SHORT_TITLE = 20  # cells; so much of a title is always shown


def title(session: Session, remark: str, which: str, width: int) -> str:
    """What is open, whether it is saved, and the last remark. which: said before it, where several are open."""
    kept = "demonstration" if session.shipped else "saved"
    state = "not saved" if session.history.unsaved or session.path is None else kept
    end = f"   {session.path.name if session.path else 'new'}, {state}"
    named = f"{which}{value_at(session.data, ('title',), '')}"
    said = fitted(named, max(SHORT_TITLE, width - 2 - cell_len(end))).rstrip() + end
    if remark:
        said = f"{remark}   |   {said}"
    return f"{said}   ! {session.journal.fault}" if session.journal.fault else said


def results(found: RunCheck | None, system: System, *, stale: bool) -> Text:
    """One run by the table and by calculation, a line each rate."""
    text = Text(style="italic" if stale else "")
    if found is None:
        return Text("No result for this run yet.", style="italic")
    text.append(f"{found.run.name}\n", style="bold")
    text.append("By the table: ", style="bold")
    text.append(one_line(reason(found.decides, system, with_run=False)) + "\n")
    for rate in found.rates:
        text.append(f"\nAt {one_line(rate.name)}: ", style="bold")
        text.append(f"{show_pressure(rate.flow.pressure_drop, system)} lost")
        if rate.budget_pressure is not None:
            text.append(f", {show_pressure(rate.budget_pressure, system)} allowed")
        each = (rate.equivalent_length, rate.equivalent_length_low, rate.equivalent_length_high)
        here, low, high = (None if length is None else show_feet(length, system) for length in each)
        if here is not None:
            text.append(f"\n  as {here} of straight {found.reference_section.label}\n  likely {low} to {high}")
        if rate.static_pressure_at_appliance is not None:
            text.append(f"\n  gauge at the appliance {show_pressure(rate.static_pressure_at_appliance, system)}")
        text.append("\n")
    if found.difference:
        text.append("\n" + one_line(say(found.difference, system, place=False)))
    return text


def cautions(check: JobCheck | None, system: System, problems: Sequence[Problem] = ()) -> Text:
    """What keeps the job from being judged, then every caution; one paragraph each, in full."""
    text = Text()
    for problem in problems:
        text.append("! " + one_line(problem) + "\n\n", style="bold")
    for caution in cautions_of(check, system) if check else ():
        text.append("• " + one_line(caution) + "\n\n")
    return text if check or problems else Text("No result yet.", style="italic")


MOST_RATES = 4  # told one by one above the chart: combinations of several appliances would fill the screen


def small_chart(found: RunCheck | None, system: System, *, width: int, height: int) -> Text:
    """The pressure along a run, without words that stand beside it."""
    return pressure_chart(found, system, width=width, height=height, words=False)


def small_route(found: RunCheck | None, system: System, *, width: int, height: int) -> Text:
    """Where a run goes, as far as it can be drawn so small."""
    legs = route_of(found.run) if found else None
    if found is None or not legs:
        return Text("No route yet: w walks one, pipe by pipe." if found else "")
    ends = {"start_open": found.run.start == OUTDOORS, "end_open": found.run.end == OUTDOORS}
    drawn = sketch(legs, system, **ends, width=width, height=height)
    return Text("\n".join(drawn.lines) if drawn else "The route is too large for here: F7 shows it.")


def pressure_chart(found: RunCheck | None, system: System, *, width: int, height: int, words: bool = True) -> Text:
    """The loss still ahead along a run, each rate, against the allowance at the rate that loses most."""
    if found is None:
        return Text("No result for this run yet.", style="italic")
    lines, marks = [], marks_along(found.run, found.serves)
    for rate in found.rates:
        points = [
            (display_value(x, Dimension.LENGTH, system), display_value(y, Dimension.PRESSURE, system))
            for x, y in loss_along(rate).points
        ]
        lines.append(Line(name=rate.name, points=points))
    allowed = found.worst.budget_pressure
    said = ""
    if allowed is not None:
        end = max(p[0] for line in lines for p in line.points)
        level = display_value(allowed, Dimension.PRESSURE, system)
        lines.append(Line(name="allowed", points=[(0.0, level), (end, level)], dashed=True))
        said = f"; dashed: allowed at {found.worst.name}, {show_pressure(allowed, system)}"
    text = Text(f"{found.run.name}: pressure still to be lost, from {found.run.start} to {found.run.end}", style="bold")
    each = [f"{rate.name} {show_pressure(rate.flow.pressure_drop, system)}" for rate in found.rates]
    if len(each) > MOST_RATES:
        each = [each[0], f"{len(each) - 2} between", each[-1]]
    if words:
        text.append(f"\nsolid, from the top: {', '.join(each)}{said}", style="not bold")
    else:
        text = Text(f"{found.run.name}: pressure still to be lost", style="bold")
    text.append("\n")
    up, across = display_unit(Dimension.PRESSURE, system), display_unit(Dimension.LENGTH, system)
    up = f"{up}   {marks_key(marks)}".rstrip()
    rows = line_chart(lines, width=width, height=height - 2, across=across, up=up, places=axis_marks(marks, system))
    text.append("\n".join(rows), style="not bold")
    return text


def route(found: RunCheck | None, system: System, *, width: int, height: int, stale: bool) -> Text:
    """Where a run goes: plan and elevation, with their marks explained."""
    if found is None:
        return Text("No result for this run yet.", style="italic")
    run = found.run
    text = Text(style="italic" if stale else "")
    text.append(one_line(f"{run.name}: route from {run.start} to {run.end}") + "\n", style="bold")
    legs = route_of(run)
    if legs is None:
        text.append("A counted run has no route: its feet and elbows have no order. w walks a route, pipe by pipe.")
        return text
    if not legs:
        text.append("No straight pipe yet.")
        return text
    if any(leg.assumed for leg in legs):
        text.append("Dashed pipes have no heading and are drawn straight on.\n")
    else:
        text.append(one_line(f"The end, seen from the start: {reach_in_words(legs, system)}") + "\n")
    ends = {"start_open": run.start == OUTDOORS, "end_open": run.end == OUTDOORS}
    # What does not fit is drawn taller, since the screen scrolls.
    sizes = (height - 3, 10 * height)
    drawn = next(filter(None, (sketch(legs, system, **ends, width=width, height=tall) for tall in sizes)), None)
    if drawn is None:
        text.append(TOO_SMALL)
        return text
    text.append("\n".join(drawn.lines))
    within = " and ".join(dict.fromkeys(one_line(joint) for joint in (run.start, run.end) if joint != OUTDOORS))
    marks = {START: within, OPEN_END: "outdoors", UPRIGHT: "upright", TURN: "level turn"}
    picture = "".join(drawn.lines)
    said = [f"{mark} {meaning}" for mark, meaning in marks.items() if mark in picture]
    if drawn.stretched:
        said.append("short pipes drawn longer")
    text.append("\n" + "   ".join(said))
    return text
