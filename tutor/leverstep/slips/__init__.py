"""Why an entry is wrong: the catalogue of slips, the search for those that fit, and the hints.

`explained` is what every room asks. `hints/*.toml` holds the catalogue as data; hints/README.md
documents it.
"""
