"""Readings on the demonstrations, and what their diagnosis says, for several test files."""

from __future__ import annotations

import copy
from typing import Any

from tests.studies.readings_of import Data, collar, data_of, inputs_of, reading
from ventsize.report.wording.causes import where
from ventsize.studies.diagnosis import diagnose
from ventsize.studies.diagnosis.result import Cause, Diagnosis

LONG = "trips-on-the-vent"
FINE = "0.002 in w.c."


def blocked(data: Data, place: int, k: float) -> Data:
    """The job with a loss more put before a piece."""
    made = copy.deepcopy(data)
    made["run"][0]["pieces"].insert(place, {"fitting": "coupling", "k": k})
    return made


def visit(truth: Data, *, oxygen: str = "5.9 %") -> list[Data]:
    """Collar at both rates, the air pipe, oxygen: as the solver has them on a job."""
    return [
        reading("collar", pressure=collar(truth), accuracy=FINE),
        reading("collar", "low", pressure=collar(truth, "low"), accuracy=FINE),
        reading("air pipe", pressure=collar(truth, "high", "air"), accuracy=FINE),
        reading("collar", oxygen=oxygen),
    ]


def found(*taken: Data, name: str = LONG) -> Diagnosis:
    return diagnose(inputs_of(data_of(name), *taken))


def leading(result: Diagnosis) -> Cause:
    """The cause that fits best."""
    return result.groups[0].causes[0]


def why(result: Diagnosis) -> set[str]:
    """The codes of the reasons."""
    return {reason.code for reason in result.reasons}


def places(cause: Cause) -> list[str]:
    """Every place of a cause in words."""
    return [where(form, part) for form, part in cause.parts]


def kinds(group: Any) -> set[str]:
    return {cause.kind for cause in group.causes}
