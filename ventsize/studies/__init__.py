"""Questions asked of a checked job, a module or a package each.

A package holds what only its question needs; `altering` (a job with something changed), `pricing` (what things cost),
`profile` and `slope` serve several.
"""
