"""A student's own progress: what was practised, which slips are gone, and what to do next."""
