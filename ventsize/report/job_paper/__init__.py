"""The papers of a job: two pages for the customer, the permit appendix, takeoff and cut list for those who build.

`job_paper(Material(…), parts=…)` gives a `Paper`; `ventsize.report.paper.write` puts it into files.
`proposal.proposal_paper` sets jobs side by side.
"""

from __future__ import annotations

from ventsize.report.job_paper.all_papers import EVERY, HANDED_OVER, Part, job_paper
from ventsize.report.job_paper.material import Material, material_of

__all__ = ["EVERY", "HANDED_OVER", "Material", "Part", "job_paper", "material_of"]
