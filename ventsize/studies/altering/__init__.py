"""A job with something changed: what can be changed, said as in a job file, and the job that comes of it."""
