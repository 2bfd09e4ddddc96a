"""What a line says of how forces compare: `the muscle pulls 4 x as hard as the key`."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator, Mapping

from leverstep.claims.judged_line import Claim, LineStanding
from leverstep.claims.labels import ACROSS, ALONG, label_of
from leverstep.claims.near_numbers import is_near
from leverstep.claims.page_quantities import ACROSS_AXIS, ALONG_AXIS, Quantity
from leverstep.claims.subject import Subject
from leverstep.entry.body_weight_words import BODY_WEIGHT
from leverstep.statics.units import FORCE, known_unit

_TIMES = re.compile(
    r"(?<![\w.])(?P<number>\d+(?:\.\d+)?)\s*"
    r"(?:(?P<percent>%|per\s?cent\b)|(?:x|×|times)\s+(?:as|so|the|what|more|body|its|that|\w+er)\b"
    rf"|[\s-]?fold\b|(?:of\s+(?:the\s+|my\s+|his\s+|her\s+)?)?{BODY_WEIGHT}\b)",
    re.IGNORECASE,
)
"""`4 x as hard`, `1.3 times the`, `33 %`, `2.3 BW`, `0.9 of body weight`."""
_IN_BODY_WEIGHTS = re.compile(rf"\bin\s+{BODY_WEIGHT}\b", re.IGNORECASE)
_ANY_NUMBER = re.compile(r"(?<![\w.])(?P<number>\d+(?:\.\d+)?)(?![\w.])(?P<percent>\s*%)?")
_OF_BODY = re.compile(rf"\b{BODY_WEIGHT}\b|\bweight of the body\b|\bof the body\b", re.IGNORECASE)
_OF_ONE = re.compile(
    r"\b(?:each|per|either|one)\s+(?:hand|arm|leg|foot|side|one|elbow|knee|wrist)\b", re.IGNORECASE
)
_FORCE = re.compile(r"(?<![\w.])(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>N|lbf|lb)\b")
_FOR_ALL = frozenset({"load", "loads", "total", "all", "weights"})
_FOR_REACTION = frozenset({"bone", "compression"})
"""Words for the reaction, beside those that any problem has for it."""
_BY_SEGMENT = {ACROSS_AXIS: ACROSS, ALONG_AXIS: ALONG}
"""Words for the components of the reaction along the segment and across it, by their axes."""
_MORE_OR_LESS = re.compile(
    r"\b(?:(?P<more>harder|more|stronger|larger|bigger|greater|higher)"
    r"|less|weaker|smaller|lower|softer)(?:\s+(?!than)\w+)?\s+th[ae]n\b",
    re.IGNORECASE,
)
"""`harder than`, `less force than`."""
_DENIED = re.compile(
    r"\b(?:not|no|never|cannot|if|would|should|half|twice|times|why|how)\b|n['’]t\b|\?",
    re.IGNORECASE,
)
_SORTS_BESIDE = ("arm", "moment", "distance", "angle", "mass", "ratio", "stress", "power")
"""What else may be more than another of its sort."""
_GOES_ON = re.compile(r"^\W*(?:that|this|which|it|so)\b|^\W*thats\b", re.IGNORECASE)
"""What begins a line that goes on with the force of the line before."""
_ROUNDED_OFF = 0.02
"""How far a ratio that is told may lie off, as a share of it."""


def forces_compared(
    text: str, subject: Subject, world: Mapping[str, float], last: str
) -> list[Claim]:
    """Return what a line says truly of the ratio of two forces that it names.

    It is never called wrong: which two forces a number compares is seen only where it is right.

    Args:
        text: the line as it was typed, with decimal points.
        subject: what the page is about.
        world: what the student's own wrong values lead to, by key.
        last: the key of what the page wrote last.
    """
    if re.search(r"\d", text) is None:
        ordered = _ordered(text, subject, world)
        return [] if ordered is None else [ordered]
    told = _ANY_NUMBER if _IN_BODY_WEIGHTS.search(text) else _TIMES
    numbers = list(told.finditer(text))
    pairs = list(_pairs(text, subject, last)) if numbers else []
    claims = [_compared(number, pairs, subject.right, world) for number in numbers]
    if _OF_ONE.search(text):
        claims += [_halved(number, subject, world) for number in _FORCE.finditer(text)]
    return [claim for claim in claims if claim is not None]


def _compared(
    said: re.Match[str],
    pairs: Iterable[tuple[Quantity, Quantity]],
    right: Mapping[str, float],
    world: Mapping[str, float],
) -> Claim | None:
    """Return a claim of the ratio of the first of some pairs that a number fits."""
    number, slack = _number_told(said, 0.01 if said["percent"] else 1.0)
    for one, other in pairs:
        for values, standing in ((right, LineStanding.KEPT), (world, LineStanding.FOLLOWS)):
            above, below = abs(values.get(one.key, 0.0)), abs(values.get(other.key, 0.0))
            if below and is_near(number, above / below, slack, _ROUNDED_OFF):
                return Claim(standing, value=above / below, text=said.group())
    return None


def _ordered(text: str, subject: Subject, world: Mapping[str, float]) -> Claim | None:
    """Return a claim that one force is more than another, or less, where that is so."""
    said = _MORE_OR_LESS.search(text)
    if said is None or _DENIED.search(text):
        return None
    label = label_of(text)
    if subject.names.names_sort(label, *_SORTS_BESIDE):
        return None
    ones, others = (_named_in(part, subject) for part in (text[: said.start()], text[said.end() :]))
    if not ones or not others or set(ones) & set(others):
        return None
    way = 1 if said["more"] else -1
    for values, standing in ((subject.right, LineStanding.KEPT), (world, LineStanding.FOLLOWS)):
        if all(
            way * (abs(values.get(one, 0.0)) - abs(values.get(other, 0.0))) > 0
            for one, other in itertools.product(ones, others)
        ):
            return Claim(standing, text=said.group())
    return None


def _named_in(text: str, subject: Subject) -> list[str]:
    """Return the keys of the forces that a part of a line names: one of a name, or the reaction."""
    words = _ForcesInWords(text, subject)
    if words.several or words.is_untold:
        return []
    found = [
        one
        for one in subject.all.values()
        if one.dimension == FORCE and one.step is not None and not one.axis and words.names(one)
    ]
    return [one.key for one in found] if len(found) == 1 else []


def _halved(said: re.Match[str], subject: Subject, world: Mapping[str, float]) -> Claim | None:
    """Return a claim that a force is half of one that acts on both sides of the body."""
    sign = "N" if said["unit"] == "N" else "lbf"
    value, slack = _number_told(said, float(known_unit(sign).size))
    for values, standing in ((subject.right, LineStanding.KEPT), (world, LineStanding.FOLLOWS)):
        for one in subject.with_line:
            half = abs(values.get(one.key, 0.0)) / 2
            if one.dimension == FORCE and half and is_near(value, half, slack, _ROUNDED_OFF):
                return Claim(standing, value=half, text=said.group())
    return None


def _number_told(said: re.Match[str], by: float) -> tuple[float, float]:
    """Return a number that is told and half a unit of its last digit, both times a factor."""
    decimals = len(said["number"].partition(".")[2])
    return float(said["number"]) * by, 0.5 * by * 10.0**-decimals


def _is_told(reaction: Quantity, subject: Subject) -> bool:
    """Return whether a component of the reaction is told by itself: along or across the segment, or
    where there is no whole.
    """
    return reaction.axis in _BY_SEGMENT or not subject.finds_whole_reaction


def _pairs(text: str, subject: Subject, last: str) -> Iterator[tuple[Quantity, Quantity]]:
    """Yield pairs of forces, of which the first is named, and the second where two are.

    The second may be the weight of the body, or all together; the first that of the line before.
    """
    words = _ForcesInWords(text, subject)
    forces = [
        one
        for one in subject.all.values()
        if one.dimension == FORCE
        and (not one.axis or (one.family == "reaction" and _is_told(one, subject)))
    ]
    goes_on = words.is_untold or (not words.several and _GOES_ON.search(text) is not None)
    for one, other in itertools.permutations(forces, 2):
        is_first = words.names(one) or (goes_on and one.key == last)
        if is_first and words.may_be_second(other):
            yield one, other


class _ForcesInWords:
    """Which forces a line names: by their names, as the reaction, or as the body's weight."""

    def __init__(self, text: str, subject: Subject) -> None:
        self._words, self._of = label_of(text).words, subject.names
        self._named = subject.names.forces_named(label_of(text))
        reaction = subject.names.words_of_reaction | _FOR_REACTION
        self._has_reaction = bool(self._words & reaction)
        self._has_body = _OF_BODY.search(text) is not None

    @property
    def is_untold(self) -> bool:
        """Whether no force is named but the body's weight."""
        return not self._named - ({"body"} if self._has_body else set()) and not self._has_reaction

    @property
    def several(self) -> bool:
        """Whether two forces are named, or more."""
        return len(self._named) + self._has_reaction + self._has_body > 1

    def names(self, quantity: Quantity) -> bool:
        """Return whether a quantity is named."""
        if quantity.axis in _BY_SEGMENT:
            return bool(self._words & _BY_SEGMENT[quantity.axis])
        if quantity.family == "reaction":
            return self._has_reaction
        return bool(quantity.about) and set(quantity.about) <= self._named

    def may_be_second(self, quantity: Quantity) -> bool:
        """Return whether the force that is compared may be so with a quantity."""
        is_weight = quantity.family == "weight" and "body" in self._of.words_of(quantity)
        is_all = quantity.whole and bool(self._words & _FOR_ALL)
        is_body = self._has_body and is_weight
        return self.names(quantity) or is_body or is_all or not self.several
