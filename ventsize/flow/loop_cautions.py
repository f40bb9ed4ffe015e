"""What has to be said of a net with loops or several openings once its flow has been sought."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from ventsize.flow.friction import LAMINAR_LIMIT
from ventsize.jobfile.job import OUTDOORS

if TYPE_CHECKING:
    from ventsize.flow.solve import RunFlow


def loop_cautions(rate: str, solved: Mapping[str, RunFlow], *, outwards: bool, settled: bool) -> Iterator[str]:
    """Sentences: no flow was found, it settles in the step of friction, or an opening works the wrong way."""
    names = ", ".join(f"'{name}'" for name in sorted(solved))
    if not settled:
        yield f"runs {names}, {rate}: no flow was found at which the pressures agree; nothing here can be relied on"
        return
    for name, flow in solved.items():
        sections = {id(piece.section): piece.section for piece in flow.run.pieces}
        if any(LAMINAR_LIMIT <= flow.at(section).reynolds < 1.01 * LAMINAR_LIMIT for section in sections.values()):
            yield (
                f"run '{name}', {rate}: its flow settles in the step between laminar and turbulent, at Reynolds number "
                "2040; the step is taken as a ramp of one percent, and the real flow may swing between the two"
            )
        last = flow.run.end if flow.forward else flow.run.start
        first = flow.run.start if flow.forward else flow.run.end
        if flow.stream.mass_flow and OUTDOORS in (last, first) and (first == OUTDOORS) is outwards:
            way = "draws outdoor air in" if outwards else "blows air out"
            yield f"run '{name}', {rate}: it {way} at its outdoor end; check the layout"
