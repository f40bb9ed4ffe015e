"""The one switch that turns cooling off: alike in the job and on the command line, at every verb that figures flow."""

from __future__ import annotations

import argparse
from pathlib import Path

import pytest

from ventsize.cli import main
from ventsize.cli.verbs import VERBS, prepare

WORDS: dict[str, tuple[str, ...]] = {
    "bench": ("JOB", "--steps", "2", "--json"),
    "check": ("JOB", "--json"),
    "checkover": ("JOB", "--json"),
    "compare": ("JOB", "--with", 'size = "4 in"', "--json"),
    "diagnose": ("JOB", "--json"),
    "headroom": ("JOB", "--json"),
    "inducer": ("JOB", "--json"),
    "lesson": ("lesson-low-fire", "--json"),
    "options": ("JOB", "--sizes", "3 in", "--json"),
    "paper": ("JOB", "--markdown", "FILE", "--replace"),
    "proposal": ("JOB", "--markdown", "FILE", "--replace"),
    "readings": ("JOB", "--json"),
    "repairs": ("JOB", "--json"),
    "sweep": ("drop-by-flow", "JOB", "--json"),
    "uncertainty": ("JOB", "--samples", "20", "--json"),
    "working": ("JOB",),
}
"""Every verb with the switch, and a question to ask it; JOB and FILE are put in."""

BESIDE_THE_FLOW = {"headroom", "checkover", "options", "repairs", "lesson", "proposal"}
"""They go by the table, where the calculation does not bring another answer about; a lesson is plain already."""

WITHOUT = {
    "open": "the screens have a key for it",
    "along": "draws both",
    "cold": "the gas cools there in any case",
    "condensate": "the gas cools there in any case",
    "completion": "no job is asked about",
    "schema": "no job is asked about",
    "exercises": "a sheet says what its gas does",
    "jobs": "the verdict is the table's",
    "roomair": "no gas flows",
    "selfcheck": "no job is asked about",
    "guide": "no job is asked about",
    "tables": "no gas flows",
    "takeoff": "no gas flows",
    "visit": "keeps the verdict, which is the table's",
}


def test_every_verb_has_the_switch_or_a_reason() -> None:
    """A verb more comes with one or the other."""
    assert WORDS.keys() | WITHOUT.keys() == VERBS.keys() and not WORDS.keys() & WITHOUT.keys()
    for verb in VERBS:
        parser = argparse.ArgumentParser()
        prepare(verb)(parser)
        assert ("--plain" in parser.format_help()) is (verb in WORDS), verb


@pytest.mark.parametrize("verb", WORDS)
def test_the_switch_is_the_job_s_key(verb: str, root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--plain` answers as `cooling = false` does, and otherwise than without."""
    name = "trips-on-the-vent.toml" if verb in ("readings", "diagnose") else "long-run-adaptive.toml"
    job, keyed, file = root / "scenarios" / name, tmp_path / name, tmp_path / "paper.md"
    if verb == "lesson":
        job = root / "scenarios" / "lesson-low-fire.toml"
        keyed = tmp_path / job.name
    text = job.read_text(encoding="utf-8")
    if verb != "lesson":  # lessons are plain as they come
        text = text.replace("[site]", "cooling = false\n\n[site]", 1)
    keyed.write_text(text, encoding="utf-8")

    def answer(job: Path, *more: str) -> str:
        words = [{"JOB": str(job), "FILE": str(file), "lesson-low-fire": str(job)}.get(w, w) for w in WORDS[verb]]
        assert main([verb, *words, *more]) in (0, 1)
        told = capsys.readouterr()
        assert told.err == ""
        return file.read_text(encoding="utf-8") if str(file) in words else told.out

    without, switched, by_key = answer(job), answer(job, "--plain"), answer(keyed)
    assert switched.replace(str(job), str(keyed)) == by_key
    if verb not in BESIDE_THE_FLOW:
        assert switched != without
