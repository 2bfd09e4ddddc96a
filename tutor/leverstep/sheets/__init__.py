"""Worksheets and answer keys for paper: what stands on them, and writers that only show it."""
