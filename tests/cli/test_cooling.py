"""The one switch that turns cooling on: alike in the job and on the command line, at every verb that figures flow."""

from __future__ import annotations

from pathlib import Path

import pytest

from ventsize.cli import main


@pytest.mark.parametrize("verb", ["check", "uncertainty", "inducer", "headroom"])
def test_the_switch_is_the_job_s_key(verb: str, root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`--cooling` answers as `cooling = true` does, and otherwise than without."""
    plain = root / "scenarios" / "long-run-adaptive.toml"
    keyed = tmp_path / "job.toml"
    text = plain.read_text(encoding="utf-8")
    keyed.write_text(text.replace("[site]", "cooling = true\n\n[site]", 1), encoding="utf-8")

    def answer(*words: str) -> str:
        main([verb, *words, "--json"])
        return capsys.readouterr().out

    without, switched, by_key = answer(str(plain)), answer(str(plain), "--cooling"), answer(str(keyed))
    assert switched == by_key
    if verb in ("check", "uncertainty", "inducer"):
        assert switched != without
