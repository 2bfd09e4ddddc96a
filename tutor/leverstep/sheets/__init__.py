"""Worksheets and answer keys for paper: what stands on them."""
