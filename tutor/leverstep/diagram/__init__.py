"""The free-body diagram of a question, to scale in text and told in words.

`scene` holds the geometry in metres, with the `surroundings` that a problem shows besides. `sketch`
has it at one scale, `plan` finds the scale and the place for it, `layout` draws it with the
characters of `canvas`, `described` tells it. Nothing here works physics out: every size comes from
the question.
"""
