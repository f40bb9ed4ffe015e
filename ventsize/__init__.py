"""ventsize: sizing of vents and combustion-air pipes of fan-assisted gas appliances.

For other programs: `read_job` reads a job file and all it names, `check_job` answers it, `as_json` is what
`ventsize check --json` prints. Everything is in SI. A file that cannot be read raises `InputError`; its `problems`
say where, what and what is expected. The names of `__all__` are kept; those further down may change.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from ventsize.check.inputs import Inputs
    from ventsize.check.inputs import read_inputs as read_job
    from ventsize.check.result import JobCheck, RunCheck
    from ventsize.check.verdict import check as check_job
    from ventsize.finding import Finding, Outcome
    from ventsize.jobfile.problems import InputError, Problem
    from ventsize.report.check_json import as_object as as_json

__version__ = "0.1.0"
__all__ = [
    "Finding", "InputError", "Inputs", "JobCheck", "Outcome", "Problem", "RunCheck",
    "as_json", "check_job", "read_job",
]  # fmt: skip

_HOME = {
    "Finding": "finding", "Outcome": "finding", "InputError": "jobfile.problems", "Problem": "jobfile.problems",
    "Inputs": "check.inputs", "JobCheck": "check.result", "RunCheck": "check.result",
    "read_job": "check.inputs:read_inputs", "check_job": "check.verdict:check",
    "as_json": "report.check_json:as_object",
}  # fmt: skip
"""Where each is defined; imported when it is asked for, so that the command line starts no slower for it."""


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module 'ventsize' has no attribute {name!r}")
    module, _, defined_as = _HOME[name].partition(":")
    return getattr(import_module(f"ventsize.{module}"), defined_as or name)
