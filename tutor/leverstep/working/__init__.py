"""One student's working on one problem: judging an entry, and what is open next.

`judge` compares a value with the derivation; `value_lines`, `equation_lines` and `claimed_lines`
make lines of what was read, beside those in `standing_lines`; `working` holds the lines of one
question; `writing` prints lines as on paper. Why a wrong line is wrong is for the slips to say,
by the `Attempt` in its verdict.
"""
