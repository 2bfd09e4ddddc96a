"""Several drills of a course together: their marks weighed, their slips followed over the term."""
