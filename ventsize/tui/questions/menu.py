"""The list of a job's reports: each with its answer in a few words beside it, as soon as that is known."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from time import thread_time
from typing import Any

from textual.worker import get_current_worker

from ventsize.finding.halting import UNWANTED, Halted
from ventsize.tui.job.session import Session
from ventsize.tui.long_work import long_work, tell
from ventsize.tui.widgets.picker import Picker

MOST = 1.0  # s of processor; what takes longer is known once it has been opened
HALTED = object()


class ReportsMenu(Picker):
    """What is said of a report is its answer; until there is one, what it answers."""

    def __init__(self, session: Session, entries: Sequence[tuple[str, str, str]]) -> None:
        """entries: name, title, what it answers."""
        self._session, self._check = session, session.check
        known = {} if session.stale else {**_at_once(session), **session.in_short}
        self._asked = [] if session.stale else [name for name in STUDIES if name not in known]
        super().__init__("Reports", [(name, title, known.get(name) or what, what) for name, title, what in entries])

    def on_mount(self) -> None:
        """Ask what is quickly answered."""
        self._work_out(self._session.inputs)

    @long_work
    def _work_out(self, inputs: Any) -> None:
        worker = get_current_worker()
        for name in self._asked:
            study = _soon(partial(STUDIES[name], self._session, inputs), lambda: worker.is_cancelled)
            if worker.is_cancelled:
                return
            tell(self, self._came, name, study)

    def _came(self, name: str, study: Any) -> None:
        session = self._session
        if self._check is not session.check or not self.is_attached:
            return
        if study is HALTED:
            session.in_short[name] = ""  # it is not asked again here
        else:
            session.keep_in_short(name, study)
            self.put(name, session.in_short[name])


def _soon(ask: Callable[[], Any], unwanted: Callable[[], bool]) -> Any:
    """What is found in the time there is; HALTED where it takes longer, or cannot be answered."""
    from ventsize.jobfile.problems import InputError

    end = thread_time() + MOST
    before = UNWANTED.set(lambda: unwanted() or thread_time() > end)
    try:
        return ask()
    except (Halted, InputError, ValueError, ArithmeticError):
        return HALTED
    finally:
        UNWANTED.reset(before)


def _at_once(session: Session) -> dict[str, str]:
    from ventsize.report.in_short import at_once

    inputs, check = session.whole
    return at_once(check, len(inputs.job.readings), session.system)


def _room_air(_session: Session, inputs: Any) -> Any:
    from ventsize.studies.room_air import room_air

    return room_air(inputs) if inputs.job.rooms else None


def _visits(session: Session, _inputs: Any) -> Any:
    from ventsize.jobfile.visits import read_visits

    return read_visits(session.path) if session.path else ()


def _check_over(session: Session, inputs: Any) -> Any:
    from ventsize.studies.checkover import check_over

    return check_over(inputs, checked=session.check)


def _diagnosis(session: Session, inputs: Any) -> Any:
    from ventsize.studies.diagnosis import diagnose

    return diagnose(inputs, checked=session.check) if inputs.job.readings else None


def _inducer(_session: Session, inputs: Any) -> Any:
    from ventsize.studies.inducer import inducer_study

    return inducer_study(inputs) if any(one.inducer is not None for one in inputs.job.appliances) else None


def _uncertainty(_session: Session, inputs: Any) -> Any:
    from ventsize.studies.uncertainty import Stopped, uncertainty

    try:
        return uncertainty(inputs, progress=lambda _: not UNWANTED.get()())
    except Stopped:
        raise Halted from None


def _takeoff(_session: Session, inputs: Any) -> Any:
    from ventsize.studies.pricing.own import own_prices
    from ventsize.studies.pricing.prices import cost
    from ventsize.studies.takeoff import takeoff
    from ventsize.studies.takeoff.practice import read_practice

    taken, prices = takeoff(inputs, practice=read_practice()), own_prices()
    return taken, None if prices is None else cost(taken, prices)


def _repairs(_session: Session, inputs: Any) -> Any:
    from ventsize.studies.repairs import repairs

    return list(repairs(inputs))


STUDIES: Mapping[str, Callable[[Session, Any], Any]] = {
    "roomair": _room_air,
    "visit": _visits,
    "checkover": _check_over,
    "diagnose": _diagnosis,
    "inducer": _inducer,
    "uncertainty": _uncertainty,
    "takeoff": _takeoff,
    "repairs": _repairs,
}
"""By report, the quickest first. Which sizes and elbows will do takes too long: it is asked for when it is opened."""
