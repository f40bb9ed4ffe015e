"""The screens against yardsticks: the first frame against an empty app, a keystroke in a large job."""

from __future__ import annotations

import asyncio
import statistics
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from tests.bench.measure import Timed, Timing, measure_together
from tests.bench.outcome import Outcome

if TYPE_CHECKING:
    from textual.events import Key

FIRST_FRAME_TARGET = 1.5
KEYSTROKE_TARGET = 0.050  # s, at the 95th percentile
PIECES = 200
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
    """A digit typed into a length of a large job, until the verdict is repainted, against 50 ms."""
    took = asyncio.run(_keystrokes())
    worst = statistics.quantiles(took, n=20)[-1]
    at_most = Timing(least=KEYSTROKE_TARGET, median=KEYSTROKE_TARGET, tries=1)
    return Outcome(
        what=f"keystroke to verdict, {PIECES} pieces, 95th percentile",
        against="50 ms",
        ours=Timing(least=min(took), median=worst, tries=len(took)),
        yardstick=at_most,
        kind="at most",
        target=1.0,
        note=f"median {statistics.median(took) * 1e3:.1f} ms",
    )


async def _keystrokes() -> list[float]:
    from ventsize.tui.app import VentsizeApp
    from ventsize.tui.widgets.verdict_line import VerdictLine

    with TemporaryDirectory() as folder:
        job = Path(folder) / "job.toml"
        job.write_text(_large_job(), encoding="utf-8")
        app = VentsizeApp(job)
        took = []
        async with app.run_test(size=(120, 40)) as pilot:
            while not app.screen.query("#outline:focus"):
                await asyncio.sleep(0.02)
            await pilot.press("5")
            for n in range(60):
                key = "backspace" if n % 2 else "7"
                line = app.screen.query_one(VerdictLine)
                before = line.text
                started = time.perf_counter()
                app.post_message(_key(key))
                while line.text == before and time.perf_counter() - started < 2.0:
                    await asyncio.sleep(0)
                app.screen._compositor.render_strips(app.size)
                took.append(time.perf_counter() - started)
                await pilot.pause()
        return took[4:]


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
