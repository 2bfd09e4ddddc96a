"""What a line says in words of which way a force acts or turns: `the floor pushes up`."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import ValueLabel, label_of
from leverstep.claims.subject import Subject
from leverstep.statics import kinds
from leverstep.statics.turn import moment_key
from leverstep.statics.units import FORCE, MOMENT

_ACTS = re.compile(r"\b(?:push|pull|press|act|point|lift|go)(?:es|s|ing)?\b", re.IGNORECASE)
_TURNS = re.compile(
    r"\b(?:turn|rotate|spin)(?:s|ing)?\b|\b(?:positive|negative),?\s+so\b"
    r"|\b(?:all|both)(?:\s\w+)?(?=\s+(?:anti|counter)?[\s-]?clockwise)",
    re.IGNORECASE,
)
_HEADING = re.compile(
    r"^\W*(?:turning\s+)?(?:forces|moments|torques|components)(?:\s+\w+ing\b|\s+\w+wise\W*$|\W*$)",
    re.IGNORECASE,
)
"""What only names the lines below it: `Forces pushing down`, `Turning moments clockwise`."""
_BESIDE_WORDS = re.compile(r"[\d=:+?]|\bnot\b|n't\b|\bif\b|\bwould\b")
"""What a line has that says more than a way, or something else."""
_NEGLIGIBLE = 0.01
"""A component smaller than this share of its force tells no direction."""


class _Components(NamedTuple):
    """The keys of the components of a force."""

    across: str
    upward: str


def way_said(
    plain: str, subject: Subject, world: Mapping[str, float], force: str, last: str
) -> Claim | None:
    """Return what a line says truly of which way a force acts, or of which way something turns.

    It is never called wrong: what is meant is seen only where it is true.

    Args:
        plain: the line, made plain.
        subject: what the page is about.
        world: what the student's own wrong values lead to, by key.
        force: the key of the force that the page wrote last, "" where there is none.
        last: the key of what it wrote last, "" where there is none.
    """
    if _BESIDE_WORDS.search(plain) or _HEADING.search(plain):
        return None
    turns, acts = _TURNS.search(plain), _ACTS.search(plain)
    said = turns or acts
    if said is None:
        return None
    before, sense = label_of(plain[: said.start()]), label_of(plain).sense
    for values, standing in ((subject.right, LineStanding.KEPT), (world, LineStanding.FOLLOWS)):
        if turns is not None:
            is_true = _turns_so(before, sense, subject, values)
        elif "turn" in sense:  # `acts anticlockwise` is of a moment, the last that was written
            one = subject.all.get(last)
            is_moment = one is not None and one.dimension == MOMENT
            way = values.get(last, 0.0) * sense["turn"] * subject.positive
            is_true = before.is_empty and is_moment and way > 0
        else:
            is_true = _acts_so(sense, list(_parts(before, subject, force)), values)
        if is_true:
            return Claim(standing, text=plain)
    return None


def _turns_so(
    before: ValueLabel, sense: Mapping[str, int], subject: Subject, values: Mapping[str, float]
) -> bool:
    """Return whether what is named turns the way that is said; all together, where nothing is."""
    named = subject.names.forces_named(before) - {"body"}
    moments = [moment_key(subject.question.problem.force(force)) for force in sorted(named)]
    keys = [key for key in moments if values.get(key)] or [subject.question.key(kinds.SUM)]
    if before.words & subject.names.words_of_muscle:
        keys.append(subject.question.key(kinds.NET_MOMENT))
    turn = sense.get("turn", 0)
    return any(values.get(key, 0.0) * turn * subject.positive > 0 for key in keys)


def _acts_so(
    sense: Mapping[str, int], forces: list[_Components], values: Mapping[str, float]
) -> bool:
    """Return whether one of some forces acts the way that is said."""
    ways = (sense.get("x", 0), sense.get("y", 0))
    if not any(ways):
        return False
    for force in forces:
        parts = [values.get(key, 0.0) for key in (force.across, force.upward)]
        least = _NEGLIGIBLE * math.hypot(*parts)
        if all(way * part > least for way, part in zip(ways, parts, strict=True) if way):
            return True
    return False


def _parts(before: ValueLabel, subject: Subject, last: str) -> Iterator[_Components]:
    """Yield the forces that may be meant: those named, else that of before or the reaction."""
    named, quantity = subject.names.forces_named(before), subject.all.get(last)
    is_reaction = bool(before.words & subject.names.words_of_reaction)
    is_untold = not named and not is_reaction
    if is_untold and quantity is not None and quantity.dimension == FORCE:
        named = set(quantity.about)
    yield from (_Components(f"{force}x", f"{force}y") for force in sorted(named))
    if is_reaction or is_untold:
        yield _Components(*map(subject.question.key, (kinds.REACTION_X, kinds.REACTION_Y)))
