"""The state of a table in a sentence: usable or not, and what that means."""

from __future__ import annotations

from collections.abc import Sequence

from ventsize.jobfile.editing import Data
from ventsize.quantity import System
from ventsize.report.wording import say
from ventsize.studies.typed_table import TypedTable
from ventsize.tui.job.session import Session
from ventsize.view.page.layout import missing_cases, rows_of


def title_of(session: Session) -> str:
    """File, whether it is saved, and title."""
    place = session.path.name if session.path else "new table"
    state = "not saved" if session.history.unsaved or session.path is None else "saved"
    if session.shipped:
        state = "demonstration: invented, read-only; Ctrl+D copies it"
    title = f"{place}, {state}   {session.data.get('title') or 'Allowance table'}"
    return f"{title}   ! {session.journal.fault}" if session.journal.fault else title


def state_of(data: Data, found: TypedTable, system: System) -> tuple[str, str]:
    """How the state looks ("bad", "doubt" or "good") and what is said."""
    rows = len(rows_of(data))
    counted = f"{rows} row{'s' * (rows != 1)}"
    wrong = [row for row in found.rows if row.faults]
    unfinished = [row for row in found.rows if row.empty]
    if wrong or found.faults or unfinished or not rows:
        return "bad", f"✗ Not usable yet ({counted}): {_why(found)}"
    doubtful = [row.number for row in found.rows if row.remarks]
    look_at = f" Look at row{'s' * (len(doubtful) != 1)} {_listed(doubtful)} again (n)." if doubtful else ""
    named = list(dict.fromkeys(str(doubt.values.get("fitting")) for doubt in found.deductions))
    if named:
        more = f" and {len(named) - 1} more" if len(named) > 1 else ""
        look_at += f" Look at the deduction of {named[0]}{more} again (F3)."
    missing = missing_cases(data)
    gaps = [say(gap, system) for gap in found.gaps]
    if missing:
        gaps.append(f"No row for {_listed(missing, ' / ')}: such a run is not covered.")
    if gaps:
        return "doubt", f"▲ Usable ({counted}), with gaps. {gaps[0]}{_more(len(gaps))}{look_at}"
    if look_at or found.remarks:
        first = say(found.remarks[0], system) if found.remarks else ""
        return "doubt", f"? Usable ({counted}).{look_at} {first}".rstrip()
    return "good", f"✓ Usable: {counted}."


def _why(found: TypedTable) -> str:
    """The table's own fault first, then the first row's."""
    wrong = [row for row in found.rows if row.faults]
    unfinished = [row.number for row in found.rows if row.empty]
    said = [str(found.faults[0])] if found.faults else []
    if wrong:
        said.append(f"row {wrong[0].number}, {wrong[0].faults[0]}")
    if unfinished:
        said.append(f"row{'s' * (len(unfinished) != 1)} {_listed(unfinished)} not finished")
    if not found.rows:
        said.append("no row is typed in (F2)")
    count = len(said) + max(0, len(wrong) - 1) + max(0, len(found.faults) - 1)
    return f"{said[0]}{'' if said[0][-1:] == '.' else '.'}{_more(count)}"


def _more(count: int) -> str:
    return f" And {count - 1} more." if count > 1 else ""


def _listed(items: Sequence[object], between: str = ", ") -> str:
    shown = between.join(map(str, items[:3]))
    return f"{shown} …" if len(items) > 3 else shown
