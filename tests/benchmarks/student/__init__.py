"""A student made for measuring the diagnosis, who shares no arithmetic with the tutor.

`sheet` and `right` work every line in plain floats, from the givens alone; `moves` makes the wrong
moves that the catalogue of slips describes, and `entries` types lines as arithmetic and equations.
"""
