"""Records: what is kept of a job, and what the jobs of a class say together."""
