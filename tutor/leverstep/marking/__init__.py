"""Marking the records of a drill by judging every entry again, and the tables of marks."""
