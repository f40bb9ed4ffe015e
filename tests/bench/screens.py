"""The screens against yardsticks: the first frame against an empty app, a keystroke in a large job."""

from __future__ import annotations

import asyncio
import statistics
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from tests.bench.measure import Timed, Timing, measure_together
from tests.bench.outcome import Outcome

if TYPE_CHECKING:
    from collections.abc import Iterable

    from textual.app import App
    from textual.events import Key
    from textual.pilot import Pilot
    from textual.widget import Widget

FIRST_FRAME_TARGET = 1.5
KEYSTROKE_TARGET = 0.050  # s, at the 95th percentile
PIECES = 200
KEYSTROKES = 80
EMPTY = """
from textual.app import App
from textual.widgets import DataTable, TabbedContent, TabPane
class Empty(App):
    def compose(self):
        with TabbedContent():
            with TabPane('one'):
                yield DataTable()
    def on_mount(self):
        self.call_after_refresh(self.exit)
Empty().run(headless=True)
"""
OURS = """
from ventsize.tui.app import VentsizeApp
class Once(VentsizeApp):
    def on_mount(self):
        self.call_after_refresh(self.exit, 0)
Once().run(headless=True)
"""


def first_frame() -> Outcome:
    """A new process to its first frame, against an empty app with tabs and a table."""
    ours, yardstick = measure_together([Timed(lambda: _run(OURS)), Timed(lambda: _run(EMPTY))], repeats=9)
    return Outcome(
        what="first frame of the screens",
        against="empty app with tabs and a table",
        ours=ours,
        yardstick=yardstick,
        kind="at most",
        target=FIRST_FRAME_TARGET,
    )


def _run(code: str) -> None:
    subprocess.run([sys.executable, "-c", code], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def keystroke() -> Outcome:
    """A digit typed into a length of a large job, until the verdict is repainted, against 50 ms.

    An app that only echoes what is typed is timed after it: what it takes is the toolkit's share.
    """
    both, echo = asyncio.run(_keystrokes())
    ours, worked = [took for took, _ in both], [work for _, work in both]
    worst, echoed, work = (statistics.quantiles(took, n=20)[-1] for took in (ours, [took for took, _ in echo], worked))
    at_most = Timing(least=KEYSTROKE_TARGET, median=KEYSTROKE_TARGET, tries=1)
    median = statistics.median(ours)
    return Outcome(
        what=f"keystroke to verdict, {PIECES} pieces, 95th percentile",
        against="50 ms",
        ours=Timing(least=min(ours), median=worst, tries=len(ours)),
        yardstick=at_most,
        kind="at most",
        target=1.0,
        note=f"median {median * 1e3:.1f} ms; of processor time alone, 95th percentile {work * 1e3:.1f} ms; "
        f"an app that only echoes, 95th percentile {echoed * 1e3:.1f} ms",
    )


async def _keystrokes() -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    from ventsize.tui.app import VentsizeApp
    from ventsize.tui.keys import steady

    with TemporaryDirectory() as folder:
        job = Path(folder) / "job.toml"
        job.write_text(_large_job(), encoding="utf-8")
        app = VentsizeApp(job)
        async with app.run_test(size=(120, 40)) as pilot:
            while getattr(app.screen, "opening", True):
                await asyncio.sleep(0.02)
            steady()  # as in a terminal, which a test has not
            await pilot.press("5")
            ours = [await _typed(app, pilot, n) for n in range(KEYSTROKES)]
        async with _echo().run_test(size=(120, 40)) as pilot:
            echo = [await _typed(pilot.app, pilot, n) for n in range(KEYSTROKES)]
        return ours[4:], echo[4:]


async def _typed(app: App[Any], pilot: Pilot[Any], number: int) -> tuple[float, float]:
    """One digit more or less, until the line that answers it is painted: the time and the processor's time [s]."""
    from ventsize.tui.widgets.verdict_line import VerdictLine

    verdict = app.screen.query(VerdictLine)
    line: Any = verdict.first() if verdict else app.screen.query_one("#echo")
    before = line.text
    started, worked = time.perf_counter(), time.process_time()
    app.post_message(_key("backspace" if number % 2 else "7"))
    while line.text == before and time.perf_counter() - started < 2.0:
        await asyncio.sleep(0)
    app.screen._on_timer_update()
    took = time.perf_counter() - started, time.process_time() - worked
    await pilot.pause()
    return took


def _echo() -> App[None]:
    """An app that shows what is typed a second time, and nothing else."""
    from textual.app import App
    from textual.widgets import Input, Static

    class Line(Static):
        text = ""

    class Echo(App[None]):
        def compose(self) -> Iterable[Widget]:
            yield Line(id="echo")
            yield Input()

        def on_input_changed(self, event: Input.Changed) -> None:
            line = self.query_one(Line)
            line.text = event.value
            line.update(event.value)

    return Echo()


def _key(name: str) -> Key:
    from textual.events import Key

    return Key(name, name if len(name) == 1 else None)


def _large_job() -> str:
    turns = "\n".join(
        f'{{ pipe = "{n % 5 + 1} ft", heading = "{("east", "north")[n % 2]}" }},\n{{ fitting = "elbow-90-long" }},'
        for n in range(PIECES // 2)
    )
    text = (Path(__file__).resolve().parents[2] / "scenarios" / "simple-pass.toml").read_text(encoding="utf-8")
    head, _, rest = text.partition("pieces = [")
    _, _, tail = rest.partition("\n]")
    return (
        f'{head}pieces = [\n{turns}\n{{ pipe = "2 ft", heading = "east" }},\n{{ fitting = "terminal-open" }},\n]{tail}'
    )
