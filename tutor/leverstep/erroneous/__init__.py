"""Workings of an invented student with a slip in them, for a student to find and mend."""
