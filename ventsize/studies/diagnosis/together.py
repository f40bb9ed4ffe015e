"""Whether the readings, all taken together, are what a sound vent would show.

A mark on a reading says that it lies past its band and its accuracy. A band holds nine vents of ten, and instruments
are off by a little more than they state now and then: over a dozen readings, one visit to a sound vent in eight has
marks. So marks among readings that are as they should be are settled by all of them together: by whether a cause does
better than nothing wrong. Where none does, they are read again. A single one just past its accuracy is not even that,
where the chi square of the vent as it should be agrees: it is held to a stricter measure where a cause on the pipe,
which can bring flue gas into the building, gains anything.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ventsize.studies.readings.result import ReadingFound, ReadingsStudy

RARE = 0.01  # a sound vent leaves more unexplained than this often only by chance
SELDOM = 0.05  # the same, where a reading is marked
# Of score, by which the best cause must do better than nothing wrong to be spoken of. On this scale, twice the
# logarithm of how much likelier, up to 2 is not worth more than a bare mention and up to 6 is evidence (Kass and
# Raftery 1995, Bayes factors; from memory). Chosen on seeds 51, 52, 7001 and 7002 of the trial, so that 98 of 100
# sound vents are not called at fault.
NOTICED = 3.0
HINT = 2.0  # where a reading is marked, or all are rare in a sound vent; of what is on the pipe, where one is just past
OFF_THE_PIPE = ("switch", "appliance", "input", "room pressure", "wind")
JUST_PAST = 1.5  # accuracies past its band; one farther out is to be read again
OTHERS = 2  # readings that must be as they should be beside those that are marked


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """All readings compared. chance: how often a sound vent leaves as much [-]. gained: what the best cause does better
    than nothing wrong, of score; on_the_pipe: the same of the best that is neither switch nor appliance."""

    chance: float
    gained: float
    on_the_pipe: float

    @property
    def strange(self) -> bool:
        """Whether the readings are not those of a sound vent even where none is marked.

        Unlikely together is not enough: what no cause explains better is the calculation's own doubt.
        """
        return self.gained > NOTICED or (self.chance < RARE and self.gained > HINT)


def all_together(*, chance: float, left: float, kinds: Mapping[str, float]) -> Together:
    """What causes gain on nothing wrong. left: what that leaves unexplained; kinds: the score of each kind."""
    gains = [(left - score, kind) for kind, score in kinds.items()]
    return Together(
        chance=chance,
        gained=max((gain for gain, _ in gains), default=0.0),
        on_the_pipe=max((gain for gain, kind in gains if kind not in OFF_THE_PIPE), default=0.0),
    )


def unexplained(study: ReadingsStudy, together: Together) -> tuple[ReadingFound, ...]:
    """The marked readings that no cause explains better than nothing wrong; none where the marks stand.

    They stand below a switch's setting, on what the comparison leaves out, and without others that are as they should.
    """
    off = tuple(reading for reading in study.readings if reading.off and not reading.at_the_edge)
    others = sum(reading.verdict == "expected" for reading in study.readings)
    plain = all(reading.compared and reading.setting is None for reading in off)
    return off if plain and others >= OTHERS and together.gained <= HINT else ()


def just_past(marked: Sequence[ReadingFound], together: Together) -> bool:
    """Whether it is a single reading, just past its accuracy, that the rest makes little of."""
    sound = together.chance >= SELDOM and together.on_the_pipe <= HINT
    return len(marked) == 1 and past(marked[0]) <= JUST_PAST and sound


def past(reading: ReadingFound) -> float:
    """How far a reading lies outside its band, over its accuracy [-]; negative inside."""
    if reading.low is None or reading.high is None:
        return 0.0
    return max(reading.measured - reading.high, reading.low - reading.measured) / reading.accuracy
