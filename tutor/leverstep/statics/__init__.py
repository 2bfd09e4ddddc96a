"""Statics of one rigid segment about a joint axis.

`units` knows what a unit is worth, `posture` describes the segment and its forces,
`derivation` turns a posture into steps with every choice left open as a symbol, and `graph`
evaluates all steps at once for any set of choices. Nothing here knows of texts, files or people.
"""
