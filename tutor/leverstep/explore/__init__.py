"""What follows when one number of a question is changed: values, plots, predictions, tables.

`givens` says what may be moved and how far (`ranges`), `results` what follows; `sweep` holds one
given on the horizontal axis, `plot` draws that with `axes`, `words` and `table` tell it, and
`predictions` asks beforehand. Every value comes from the derivation of the question.
"""
