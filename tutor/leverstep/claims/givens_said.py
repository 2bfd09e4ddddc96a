"""A line that only says again what is given, of the forces that it is given for."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import label_of
from leverstep.claims.segments import Chain
from leverstep.claims.subject import Subject
from leverstep.claims.worth import sides_of
from leverstep.course.symbols import index_given
from leverstep.statics.units import FORCE, LENGTH

_GIVEN = re.compile(r"^\W*(?:given|givens|data|find|wanted|asked|sought)\b", re.IGNORECASE)
"""What begins a list of what the problem gives, or of what is sought."""
_LISTS = re.compile(
    r"^\W*(?:given|givens|known|knowns|find|data|wanted|unknown|asked|sought|numbers|values)\b"
    r"|^\W*\w+s\s*:|\?",
    re.IGNORECASE,
)
"""What begins a list of what is given, or asks."""
_OF_REACTION = re.compile(r"\b(?:vertical|horizontal|joint|reaction|total|whole)\w*\b")
"""Words for a force that is no given, though it may have the size of one."""
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


def begins_list(text: str) -> bool:
    """Return whether a line begins a list of what is given or sought, which claims nothing."""
    return _GIVEN.search(text) is not None


def givens_said(text: str, plain: str, chains: Sequence[Chain], subject: Subject) -> Claim | None:
    """Return what a line says that gives nothing but givens in their units, each of its force.

    `the nut pushes with 150 N, 57 mm from the joint` is true; `Given: nut 150 N` is a list, and
    claims nothing.

    Args:
        text: the line as it was typed.
        plain: the line, made plain.
        chains: what was read of it, none of which is a claim.
        subject: what the page is about.
    """
    if not chains or _LISTS.search(text) or len(_NUMBER.findall(plain)) != len(chains):
        return None
    names, label = subject.names, label_of(plain)
    if not (names.forces_named(label) or names.names_sort(label)):
        return None
    is_true = all(_is_given(chain, subject) for chain in chains)
    return Claim(LineStanding.KEPT, text=plain) if is_true else None


def _is_given(chain: Chain, subject: Subject) -> bool:
    """Return whether a value with its unit is a given of the force that is named before it."""
    (side,) = sides_of(chain, {}, {}) if len(chain.sides) == 1 else (None,)
    if side is None or side.dimension is None or side.is_arithmetic:
        return False
    if side.dimension == FORCE and _OF_REACTION.search(chain.before):
        return False
    named = subject.names.forces_named(label_of(chain.before))
    of_named = {index_given(force) for force in named - {"body"}}
    of_others = {index_given(force.symbol) for force in subject.question.problem.forces} - of_named
    found = (index_given(given.sign) for given in subject.givens_like(side))
    if side.dimension == LENGTH and not of_named.isdisjoint(_worked_out(subject)):
        return any(index in of_named for index in found)
    return any(not of_named or index not in of_others for index in found)


def _worked_out(subject: Subject) -> Iterator[str]:
    """Yield the indices of the forces whose distance is no given, but has a line."""
    for quantity in subject.with_line:
        if quantity.family == "distance" and len(quantity.about) == 1:
            yield index_given(quantity.about[0])
