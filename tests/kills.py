"""Kill a program that is typing or saving, again and again, and see what is left; then ventsize in a terminal.

Every kind of write besides is killed by `tests.kills_of_writes`, which this runs too.

    python -m tests.kills [times]

Every time the work must be offered back with at most the last keystroke missing, and a saved file must be whole.
"""

from __future__ import annotations

import random
import subprocess
import sys
import tempfile
import time
import tomllib
from pathlib import Path

from ventsize.jobfile.recovery import pending_recoveries

TIMES = 200
_PIECES = "[{'pipe': '12 ft 6 in', 'heading': 'up'}, {'fitting': 'elbow-90-long'}] * 100"

# Each says on standard output when it begins and ends a keystroke, or a save.
TYPING = f"""
import sys
from pathlib import Path
from ventsize.jobfile.recovery import start_journal
journal = start_journal(Path(sys.argv[1]))
for number in range(1_000_000):
    print('begin', number, flush=True)
    data = {{'title': str(number), 'run': [{{'pieces': {_PIECES}}}]}}
    journal.note(data, file=Path('job.toml'), drafts={{('run', 0, 'size'): '3 i' + str(number)}})
    assert not journal.fault
    print('end', number, flush=True)
"""
SAVING = f"""
import sys
from pathlib import Path
from ventsize.jobfile.writer import save
for number in range(1_000_000):
    print('begin', number, flush=True)
    save(Path(sys.argv[1]) / 'job.toml', {{'number': number, 'run': [{{'pieces': {_PIECES}}}]}}, known=None)
    print('end', number, flush=True)
"""


class Lost(AssertionError):
    """Work that was not offered back, or a file that is not whole."""


def kill_while(program: str, folder: Path, *, after: float) -> tuple[int, int]:
    """Run a program and kill it a while after its first keystroke: the last number ended, and the last begun.

    after: how long it goes on [s].
    """
    with subprocess.Popen([sys.executable, "-c", program, str(folder)], stdout=subprocess.PIPE, text=True) as running:
        assert running.stdout is not None
        said = [running.stdout.readline() for _ in range(2)]
        time.sleep(after)
        running.kill()
        said += running.stdout.read().splitlines(keepends=True)
    numbers = {"begin": -1, "end": -1}
    for line in said:
        if line.endswith("\n"):
            word, number = line.split()
            numbers[word] = int(number)
    return numbers["end"], numbers["begin"]


def kill_typing(folder: Path, chance: random.Random) -> None:
    """Kill a program that types; raise Lost unless its work is offered with at most the last keystroke missing."""
    ended, begun = kill_while(TYPING, folder, after=chance.uniform(0.0, 0.03))
    offers = pending_recoveries(folder)
    if len(offers) != 1:
        raise Lost(f"{len(offers)} offers after keystroke {ended}")
    snapshot = offers[0].snapshot
    number = int(snapshot.data["title"])
    if not ended <= number <= begun or len(snapshot.data["run"][0]["pieces"]) != 200:
        raise Lost(f"keystroke {number} offered after {ended}")
    if snapshot.drafts != {("run", 0, "size"): f"3 i{number}"}:
        raise Lost(f"what was half typed is {snapshot.drafts}")
    offers[0].discard()
    if pending_recoveries(folder):
        raise Lost("what was discarded is offered again")


def kill_saving(folder: Path, chance: random.Random) -> None:
    """Kill a program that saves; raise Lost unless the file is whole and the last or the one before."""
    ended, begun = kill_while(SAVING, folder, after=chance.uniform(0.0, 0.05))
    data = tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))
    if not ended <= data["number"] <= begun or len(data["run"][0]["pieces"]) != 200:
        raise Lost(f"save {data['number']} found after {ended}")


def main(times: int) -> None:
    """Kill each kind of program so many times."""
    from tests.kills_at_screen import kill_at_screen
    from tests.kills_of_writes import AT_HAND as FORKS
    from tests.kills_of_writes import KINDS, kill_writes
    from tests.tui.terminal import AT_HAND

    chance = random.Random()
    for kind in KINDS if FORKS else ():
        kill_writes(kind, times, chance)
        print(f"kill writing {kind}: {times} times, nothing lost, nothing left behind", flush=True)
    with tempfile.TemporaryDirectory() as name:
        for kill in (kill_typing, kill_saving, *([kill_at_screen] if AT_HAND else [])):
            for _ in range(times):
                kill(Path(name), chance)
            print(f"{kill.__name__.replace('_', ' ')}: {times} times, nothing lost")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else TIMES)
