"""Why an entry is wrong: the catalogue of slips, the search for those that fit, and the hints.

`hints/*.toml` holds the catalogue as data; hints/README.md documents it.
"""
