"""The free-body diagram of a question, to scale in text and told in words.

`scene` holds the geometry in metres, `layout` draws it with the characters of `canvas`, `words`
tells it. Nothing here works physics out: every size comes from the question.
"""
