"""The paper of a job: a first page for the customer, then what a permit file wants to hold.

`job_paper(Material(…))` gives a `Paper`; `ventsize.report.paper.write` puts it into files. `proposal.proposal_paper`
sets jobs side by side.
"""

from __future__ import annotations

from ventsize.report.job_paper.material import Material, material_of
from ventsize.report.job_paper.whole import job_paper

__all__ = ["Material", "job_paper", "material_of"]
