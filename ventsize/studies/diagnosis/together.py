"""Whether the readings, all taken together, are what a sound vent would show.

A mark on a reading says that it lies past its band and its accuracy. Instruments are off by a little more than they
state now and then, and of ten readings one soon is. So a single reading just past its accuracy, among others that are
as they should be, is settled by all of them together: by the chi square of the vent as it should be, and by whether a
cause does better than nothing wrong. Both are then held to a stricter measure than where no reading is marked: the chi
square always, the causes where it is one that can bring flue gas into the building. One instrument's error looks like
a switch or an appliance at fault more easily than like a blockage, which moves several readings at once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ventsize.studies.readings.result import ReadingFound, ReadingsStudy

RARE = 0.01  # a sound vent leaves more unexplained than this often only by chance
SELDOM = 0.05  # the same, where a reading is marked
# Of score, by which the best cause must do better than nothing wrong to be spoken of. On this scale, twice the
# logarithm of how much likelier, up to 2 is not worth more than a bare mention, up to 6 is evidence, and more than 6 is
# strong (Kass and Raftery 1995, Bayes factors; from memory).
NOTICED = 6.0
HINT = 2.0  # where a reading is marked, of what is on the pipe
OFF_THE_PIPE = ("switch", "appliance", "input", "room pressure", "wind")
JUST_PAST = 1.5  # accuracies past its band; a reading farther out is off whatever the others say
OTHERS = 2  # readings that must be as they should be beside one that is marked


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


def all_together(*, chance: float, unexplained: float, kinds: Mapping[str, float]) -> Together:
    """What the kinds of causes gain on nothing wrong, which leaves so much unexplained; kinds: the score of each."""
    gains = [(unexplained - score, kind) for kind, score in kinds.items()]
    return Together(
        chance=chance,
        gained=max((gain for gain, _ in gains), default=0.0),
        on_the_pipe=max((gain for gain, kind in gains if kind not in OFF_THE_PIPE), default=0.0),
    )


def worth_repeating(study: ReadingsStudy, together: Together) -> ReadingFound | None:
    """The one reading just past its accuracy that all together do not take for a fault; None where there is none."""
    off = [reading for reading in study.readings if reading.off]
    others = sum(reading.verdict == "expected" for reading in study.readings)
    if len(off) != 1 or others < OTHERS or off[0].setting is not None or past(off[0]) > JUST_PAST:
        return None
    sound = together.chance >= SELDOM and together.gained <= NOTICED and together.on_the_pipe <= HINT
    return off[0] if sound else None


def past(reading: ReadingFound) -> float:
    """How far a reading lies outside its band, over its accuracy [-]; negative inside."""
    if reading.low is None or reading.high is None:
        return 0.0
    return max(reading.measured - reading.high, reading.low - reading.measured) / reading.accuracy
