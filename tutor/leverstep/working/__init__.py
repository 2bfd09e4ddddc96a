"""One student's working on one problem: reading an entry, judging it, what is open next.

`tokens` and `grammar` turn text into a `tree`, `amount` that into a number with a dimension,
`judge` compares it with the derivation, `writing` prints lines as on paper, and `working` holds
the lines of one question.
"""
