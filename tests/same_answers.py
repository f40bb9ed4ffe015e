"""Whether this tree answers as an earlier commit did: text and JSON of every verb over all scenarios.

    python -m tests.same_answers COMMIT [VERB ...]

Prints what differs, and exits with 1 where anything does. The commit's answers are kept in the temporary folder.
"""

from __future__ import annotations

import contextlib
import difflib
import io
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from importlib import import_module
from inspect import isgenerator
from pathlib import Path
from typing import Any

HERE = Path(__file__).resolve().parents[1]
FORMATS = (["--units", "us"], ["--units", "si"], ["--json"], ["--json", "--units", "si"])
PRICES = ["--prices", "tables/invented-prices.toml"]
SWEEPS = ("elbow-by-rate", "elbow-by-size", "elbow-by-temperature", "elbow-by-method", "table-and-calculation",
          "drop-by-flow", "length-by-elbows", "drop-by-altitude", "laminar-turbulent")  # fmt: skip
OF_A_JOB: dict[str, list[list[str]]] = {
    "check": [[], ["--plain"], ["--full"], ["--full", "--plain"]],
    "headroom": [[], ["--plain"]],
    "along": [[]],
    "cold": [[], ["--outdoor", "-10 degF", "--insulation", "1/2 in"]],
    "condensate": [[]],
    "roomair": [[]],
    "checkover": [[]],
    "readings": [[]],
    "diagnose": [[]],
    "inducer": [[], ["--start-up"]],
    "visit": [[]],
    "repairs": [[], PRICES],
    "takeoff": [[], PRICES],
    "uncertainty": [["--samples", "50"]],
    "bench": [["--steps", "2"], ["--steps", "2", "--power-cut"]],
    "options": [[], PRICES],
}
"""What is asked in every format."""
AS_TEXT: dict[str, list[list[str]]] = {
    "check": [["--csv"]],
    "working": [[], ["--units", "si", "--plain"], ["--back-to", "combustion"], ["--markdown", "OUT"]],
    "takeoff": [["--csv"], [*PRICES, "--csv"]],
    "paper": [["--markdown", "OUT"], ["--csv", "OUT", *PRICES, "--units", "si"], ["--html", "OUT"]],
    "proposal": [["--markdown", "OUT", *PRICES]],
    "visit": [["--for", "customer", "--markdown", "OUT"], ["--for", "office", "--markdown", "OUT"]],
    "bench": [["--steps", "2", "--html", "OUT"]],
    "lesson": [["--answers"], ["--notes"], ["--json"], ["--html", "OUT"], ["--check"]],
}
ONCE = (
    *("check.verdict:check", "studies.along:along", "studies.bench:run_bench", "studies.cold:cold_weather"),
    *("studies.condensate:condensate", "studies.diagnosis:diagnose", "studies.headroom:headroom"),
    *("studies.inducer:inducer_study", "studies.readings:readings", "studies.repairs:repairs", "studies.sweeps:sweep"),
    *("studies.uncertainty:uncertainty", "studies.room_air:room_air", "studies.checkover:check_over"),
    *("studies.comparing:compare", "studies.takeoff:takeoff"),
)
"""What is worked out once for all formats of an answer."""
FEW = ("simple-pass", "two-sizes", "common-vent", "counted-run", "propane-metric", "long-run-adaptive")
WITHOUT_A_JOB = [
    *(["tables", *how] for how in FORMATS),
    *(["jobs", "scenarios", *how] for how in (*FORMATS, ["--csv"], PRICES)),
    *(["tables", "--look", f"tables/demo-{name}.toml", *how]
      for name in ("two-stage", "elbow-count", "by-pressure", "cold-attic", "propane-metric") for how in FORMATS),
    *(["schema", what] for what in ("job", "table", "result")),
    *(["exercises", "--level", level, "--seed", "3", "--students", "2", *how]
      for level in "123" for how in ([], ["--units", "si"], ["--markdown", "OUT"])),
    ["selfcheck"], ["lesson"], ["guide"], ["guide", "diagnosis"], ["--help"],
]  # fmt: skip


def commands() -> Iterator[list[str]]:
    """Every command that is compared."""
    jobs = [f"scenarios/{path.name}" for path in sorted((HERE / "scenarios").glob("*.toml"))]
    for job in jobs:
        for verb, asked in OF_A_JOB.items():
            for how in asked:
                yield from ([verb, job, *how, *given] for given in FORMATS)
        for verb, asked in AS_TEXT.items():
            yield from ([verb, job, *how] for how in asked if verb != "lesson" or "lesson-" in job)
    for name in FEW:
        job = f"scenarios/{name}.toml"
        for kind in SWEEPS:
            yield from (["sweep", kind, job, *how] for how in (*FORMATS, ["--csv"], ["--html", "OUT"]))
        for other in (
            ["scenarios/old-two-inch-run.toml"],
            ["--with", "size = '2 in'"],
            ["--with", "more = {elbow-45 = 2}"],
        ):
            yield from (["compare", job, *other, *how] for how in (*FORMATS, ["--html", "OUT"]))
    yield from (list(words) for words in WITHOUT_A_JOB)


def _work_out_once() -> None:
    """Let jobs and their studies be kept, so that a further format costs no more than its writing."""
    from ventsize.cli import arguments

    arguments.read = _kept(arguments.read, lambda path, options: (str(path), options.plain))
    for name in ONCE:
        module, _, function = name.partition(":")
        found = import_module(f"ventsize.{module}")
        setattr(
            found, function, _kept(getattr(found, function), lambda *args, **kwargs: (*map(id, args), repr(kwargs)))
        )


def _kept(function: Callable[..., Any], key: Callable[..., Any]) -> Callable[..., Any]:
    kept: dict[Any, Any] = {}

    def once(*args: Any, **kwargs: Any) -> Any:
        at = key(*args, **kwargs)
        if at not in kept:
            answer = function(*args, **kwargs)
            kept[at] = list(answer) if isgenerator(answer) else answer, args  # which keeps the ids of its arguments
        return kept[at][0]

    return once


def answered(asked: str) -> dict[str, str]:
    """What this process's tree answers to each command of a verb: its exit status, and what it prints or writes."""
    from ventsize.cli import main

    _work_out_once()
    found = {}
    with tempfile.TemporaryDirectory() as folder:
        for words in commands():
            if words[0] != asked:
                continue
            written = Path(folder) / f"{len(found)}{'.html' if '--html' in words else '.md'}"
            out, err = io.StringIO(), io.StringIO()
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                try:
                    status = main([str(written) if word == "OUT" else word for word in words])
                except SystemExit as end:
                    status = end.code if isinstance(end.code, int) else 1
            text = f"{status}\n{out.getvalue()}{err.getvalue()}{written.read_text() if written.exists() else ''}"
            found[" ".join(words)] = text.replace(folder, "").replace(str(Path.cwd()), ".")
    return found


def answers_of(tree: Path, verb: str) -> dict[str, str]:
    """The answers of a tree, from a process of its own that knows nothing of the user's files."""
    with tempfile.TemporaryDirectory() as home:
        environment = {**os.environ, "HOME": home, "XDG_CONFIG_HOME": home, "XDG_DATA_HOME": home,
                       "XDG_STATE_HOME": home, "XDG_CACHE_HOME": home, "PYTHONPATH": str(tree)}  # fmt: skip
        done = subprocess.run([sys.executable, __file__, "--answer", verb], cwd=tree, env=environment, check=True,
                              capture_output=True, text=True)  # fmt: skip
    found: dict[str, str] = json.loads(done.stdout)
    return found


def answers_at(commit: str, verb: str) -> dict[str, str]:
    """The answers of a commit, kept once they are known."""
    kept = Path(tempfile.gettempdir()) / f"ventsize-answers-{commit}-{verb}.json"
    if not kept.exists():
        with tempfile.TemporaryDirectory() as folder:
            archive = subprocess.run(["git", "archive", commit], cwd=HERE, check=True, capture_output=True).stdout
            subprocess.run(["tar", "x", "-C", folder], input=archive, check=True)
            kept.write_text(json.dumps(answers_of(Path(folder), verb)))
    found: dict[str, str] = json.loads(kept.read_text())
    return found


def sorted_keys(answer: str) -> str:
    """An answer in JSON with its keys in alphabetical order, which is no part of it; another as it is."""
    status, _, text = answer.partition("\n")
    try:
        return f"{status}\n{json.dumps(json.loads(text), indent=1, sort_keys=True, ensure_ascii=False)}"
    except ValueError:
        return answer


def main(commit: str, *verbs: str) -> int:
    """Print each command whose answer is another, and in what."""
    count = differ = 0
    for verb in verbs or dict.fromkeys(words[0] for words in commands()):
        was, now = answers_at(commit, verb), answers_of(HERE, verb)
        for command in was:
            count += 1
            before, after = sorted_keys(was[command]), sorted_keys(now.get(command, ""))
            if before == after:
                continue
            differ += 1
            print(f"== {command}")
            lines = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0)
            print("\n".join(list(lines)[2:20]), flush=True)
    print(f"{count} answers, {differ} differ")
    return 1 if differ else 0


if __name__ == "__main__":
    if sys.argv[1] == "--answer":
        print(json.dumps(answered(sys.argv[2])))
    else:
        sys.exit(main(*sys.argv[1:]))
