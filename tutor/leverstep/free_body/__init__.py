"""The free-body diagram as the student's own work: what is chosen, placed, judged and missing."""
