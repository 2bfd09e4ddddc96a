"""How body weight is written where a force is compared with it: `2.4 BW`, `240 % body-weight`."""

BODY_WEIGHT = r"(?:BW|body\s*-?weights?)"
"""A pattern for it, in any case; whoever looks for it says what stands around."""
