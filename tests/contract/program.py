"""The program's answer for a job, from files in a folder, as the object that `check --json` writes."""

from __future__ import annotations

import json
import shutil
import tempfile
import traceback
from pathlib import Path
from typing import Any

from tests.contract.reading import Data

BARE = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-"


def toml(data: Data) -> str:
    """A TOML text: plain keys, then tables, then lists of tables, each inline below the first level."""
    lines = [f"{_key(key)} = {_inline(value)}" for key, value in data.items() if not _is_table(value)]
    for key, value in data.items():
        if isinstance(value, dict):
            lines += ["", f"[{_key(key)}]", *(f"{_key(name)} = {_inline(one)}" for name, one in value.items())]
    for key, value in data.items():
        if _is_table(value) and isinstance(value, list):
            for one in value:
                lines += ["", f"[[{_key(key)}]]", *(f"{_key(name)} = {_inline(part)}" for name, part in one.items())]
    return "\n".join(lines) + "\n"


def _is_table(value: Any) -> bool:
    return isinstance(value, dict) or (isinstance(value, list) and bool(value) and isinstance(value[0], dict))


def _key(name: str) -> str:
    return name if name and all(letter in BARE for letter in name) else json.dumps(name)


def _inline(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(name)} = {_inline(one)}" for name, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(_inline(one) for one in value) + "]"
    if isinstance(value, str) and '"' not in value:
        return f'"{value}"'
    return json.dumps(value, ensure_ascii=False)


class Program:
    """Checks jobs in a folder of its own; `close` removes it."""

    def __init__(self) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="contract-"))
        self.last: str | None = None

    def close(self) -> None:
        """Remove the folder."""
        shutil.rmtree(self.folder, ignore_errors=True)

    def answer(self, job: Data, tables: dict[str, Data]) -> Data:
        """The object of `check --json`; for files that cannot be read {"verdict": "error", "text": …}."""
        from ventsize.check.inputs import read_inputs
        from ventsize.check.verdict import check
        from ventsize.jobfile.problems import InputError
        from ventsize.quantity import System
        from ventsize.report.check_json import as_object

        for name, table in tables.items():
            (self.folder / name).write_text(toml(table), encoding="utf-8")
        path = self.folder / "job.toml"
        path.write_text(toml(job), encoding="utf-8")
        try:
            answer: Data = dict(as_object(check(read_inputs(path)), System.US))
        except InputError as error:
            answer = {"verdict": "error", "text": str(error)}
        except Exception as error:  # whatever it is, it is the answer to report
            frame = traceback.extract_tb(error.__traceback__)[-1]
            answer = {"verdict": "crash", "text": f"{type(error).__name__} in {Path(frame.filename).name} {frame.name}"}
        self.last = answer["verdict"]
        return answer
