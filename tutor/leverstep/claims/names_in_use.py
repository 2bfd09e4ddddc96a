"""What words and symbols may stand for in a problem, and how well a label fits a quantity."""

from __future__ import annotations

import re
from collections import Counter
from functools import lru_cache

from leverstep.claims import weights
from leverstep.claims.labels import (
    ACROSS,
    AXES,
    DIRECTIONS,
    OF_MUSCLES,
    WORDS_OF_SORTS,
    ValueLabel,
    sorts_named,
    words_in,
)
from leverstep.claims.page_quantities import ACROSS_AXIS, PageQuantities, Quantity
from leverstep.claims.symbol_fit import fit_of_symbol
from leverstep.course.problem import Problem
from leverstep.course.symbols import spelt
from leverstep.statics import kinds
from leverstep.statics.units import MASS

_TOTALS = frozenset({"total", "sum", "net", "altogether", "together", "all"})
_MUSCLES = frozenset({
    "biceps", "triceps", "brachialis", "deltoid", "quadriceps", "quads", "quad", "hamstring",
    "hamstrings", "calf", "soleus", "gastrocnemius", "achilles", "glutes", "gluteus", "abductors",
    "adductors", "flexors", "extensors", "masseter", "temporalis", "erector", "trapezius", "psoas",
    "iliopsoas", "flexor", "extensor", "abductor",
})  # fmt: skip
"""Names of muscles: each may be said for the one that a problem has."""
_BETWEEN_NAMES = frozenset({"and", "the", "of", "in", "with", "on", "a", "force", "net"})
_TELLING_AXIS = frozenset().union(*DIRECTIONS.values(), *AXES.values(), {"part", "component"})
_SHORT_NAMES = (("forearm", "arm"), ("lower", "shank"), ("thigh", "leg"), ("shank", "leg"))
"""Words that people use for a part of the body, beside those that the problem has for it."""
_SIGNS = "FWMGRTPdamr"
"""Letters that are written before the name of a force, as in `Fmuscle`."""
_SHORTENED = 4
"""So many letters of a name stand for it, as in `Fquad`."""
_RELATED = {"arm": "distance", "force": "weight"}
"""The other sort that people name where they mean one."""


class NamesInUse:
    """The symbols of a problem and the words for its forces."""

    def __init__(self, quantities: PageQuantities) -> None:
        self.quantities = quantities
        problem = quantities.question.problem
        posture = problem.posture
        self.exact = {
            key
            for key, quantity in quantities.all.items()
            if quantity.step is not None or re.fullmatch(r"[A-Za-z]+_\w+", key)
        }
        self.given = {given.sign for given in quantities.question.givens if given.sign}
        self.words_of_force = {f.symbol: _force_words(problem, f.symbol) for f in posture.forces}
        self.words_of_force["body"] = frozenset({"body", "person", "whole", "weight"})
        count = Counter(word for words in self.words_of_force.values() for word in words)
        self.common = {word for word, times in count.items() if times > 1}
        self.all_words = frozenset(count)
        self.joined = _joined(self.all_words)
        # On a level segment only the upright part of a force turns it.
        self.across = "y" if posture.inclination is None else ""
        self.words_of_axis = words_in(problem.axis) | {"joint"}
        places = "|".join(sorted(self.words_of_axis))
        self._force_at_axis = re.compile(
            rf"^\W*(?:the |total )?force (?:at|in|on) (?:the )?(?:\w+ )?(?:{places})\b",
            re.IGNORECASE,
        )
        self.effort = posture.balancing.symbol if posture.balancing else ""
        muscle = posture.effort.symbol if posture.effort else self.effort
        self.words_of_muscle = self.words_of_force.get(muscle, frozenset()) | OF_MUSCLES
        called = words_in(problem.reaction) - _BETWEEN_NAMES - self.all_words
        self.words_of_reaction = called | {"reaction", "joint"}
        self._sorts: dict[frozenset[str], frozenset[str]] = {}

    def key_of(self, symbol: str) -> str:
        """Return the quantity of the problem that is written so, "" where none is."""
        symbol = spelt(symbol)
        if symbol in self.exact:
            return symbol
        if len(symbol) < 2:
            return ""
        plain = symbol.replace("_", "").lower()
        near = [
            key
            for key in self.exact
            if key[0] == symbol[0] and key.replace("_", "").lower() == plain
        ]
        return near[0] if len(near) == 1 else ""

    def fit(self, label: ValueLabel, quantity: Quantity) -> float:
        """Return how well a label fits a quantity: 0 where it says nothing, less where it can't."""
        words = (
            self._fit_of_sort(label, quantity)
            + self._fit_of_forces(label, quantity)
            + self._fit_of_axis(label, quantity)
        )
        if label.words & _TOTALS:
            words += weights.WHOLE_NAMED if quantity.whole else weights.NOT_A_WHOLE
        if "net" in label.words and quantity.step is not None:
            words += weights.NET_NAMED * (quantity.step.kind is kinds.NET_MOMENT)
        if label.symbol in self.all_words:
            return words  # a name is told by its words, not by its first letter
        return words + fit_of_symbol(label.symbol, quantity, self.effort, self.words_of_force)

    def is_of_sort(self, label: ValueLabel, quantity: Quantity) -> bool:
        """Return whether a quantity is of a sort that the words name, where they name one."""
        sorts, sort = self._sorts_of(label.words), quantity.sort
        return (
            not sorts
            or (sort == "angle" and sorts <= {"force", "weight", "reaction"})
            or sort in sorts
            or _RELATED.get(sort) in sorts
            or (sort == "weight" and "force" in sorts)
        )

    def names_sort(self, label: ValueLabel, *among: str) -> bool:
        """Return whether the words name a sort of quantity, one of some where those are given."""
        sorts = self._sorts_of(label.words)
        return bool(sorts.intersection(among) if among else sorts)

    def forces_named(self, label: ValueLabel) -> set[str]:
        """Return the forces that the words name, each by a word that no other force has.

        The whole body is none of them where a part of it is named.
        """
        words = (label.words | label.of) - self.common - WORDS_OF_SORTS
        named = {symbol for symbol, names in self.words_of_force.items() if words & names}
        return named - {"body"} if len(named) > 1 else named

    def words_of(self, quantity: Quantity | None) -> frozenset[str]:
        """Return the words that the forces of a quantity are called by, none for no quantity."""
        about = () if quantity is None else quantity.about
        return frozenset().union(*(self.words_of_force[force] for force in about))

    def speaks_of_axis(self, text: str) -> bool:
        """Return whether a text speaks of the whole force at the axis: `force on the elbow`."""
        return self._force_at_axis.search(text) is not None

    def names_whole(self, label: ValueLabel) -> bool:
        """Return whether the words speak of a total."""
        return bool(label.words & _TOTALS)

    def _sorts_of(self, words: frozenset[str]) -> frozenset[str]:
        if words not in self._sorts:
            is_limb = "arm" in self.all_words
            self._sorts[words] = sorts_named(words, is_limb)
        return self._sorts[words]

    def _fit_of_sort(self, label: ValueLabel, quantity: Quantity) -> float:
        sorts = self._sorts_of(label.words)
        if not sorts:
            return 0.0
        if quantity.sort in sorts:
            return weights.SORT_NAMED
        is_related = _RELATED.get(quantity.sort) in sorts
        return weights.SORT_RELATED if is_related else weights.OTHER_SORT

    def _fit_of_forces(self, label: ValueLabel, quantity: Quantity) -> float:
        score = 0.0
        words = label.words | label.of
        for symbol, names in self.words_of_force.items():
            said = words & names
            if not said:
                continue
            is_strong = bool(said - self.common)
            if symbol in quantity.about:
                named = weights.FORCE_NAMED if is_strong else weights.FORCE_NAMED_VAGUELY
                score += named if len(quantity.about) == 1 else weights.ONE_OF_ITS_FORCES
            elif is_strong and (quantity.about or quantity.dimension == MASS):
                score += weights.OTHER_FORCE
        return score

    def _fit_of_axis(self, label: ValueLabel, quantity: Quantity) -> float:
        if not quantity.axis:
            return 0.0
        words, score = label.words, 0.0
        if not words & _TELLING_AXIS:
            score += weights.AXIS_NOT_NAMED
        if quantity.axis == ACROSS_AXIS:
            return score + (weights.AXIS_NAMED if words & ACROSS else 0.0)
        for axis in ("y", "x"):
            way = 1.0 if quantity.axis == axis else -1.0
            if words & DIRECTIONS[axis]:
                score += way * weights.DIRECTION_NAMED
            if words & AXES[axis] or (axis == self.across and words & ACROSS):
                score += way * weights.AXIS_NAMED
        return score


@lru_cache(maxsize=256)
def _joined(words: frozenset[str]) -> frozenset[str]:
    """Return what is written for words joined to a letter, shortened too: `Fquad`."""
    return frozenset(
        f"{sign}{word[:length]}"
        for sign in _SIGNS
        for word in words
        for length in (*range(_SHORTENED, len(word)), len(word))
    )


def _force_words(problem: Problem, symbol: str) -> frozenset[str]:
    """Return the words that a force is called by."""
    posture = problem.posture
    force = posture.force(symbol)
    words = set(words_in(problem.names[symbol]))
    if force.own_weight:
        words |= words_in(problem.segment)
    if force is posture.effort and force.magnitude is None:
        others = (words_in(problem.names[f.symbol]) for f in posture.forces if f is not force)
        is_muscle = words & (_MUSCLES | OF_MUSCLES)
        words |= OF_MUSCLES | (_MUSCLES.difference(*others) if is_muscle else set())
    words |= {short for long, short in _SHORT_NAMES if long in words}
    if len(posture.loads) <= 2 and force in posture.loads and not force.own_weight:
        words |= {"load"}
    return frozenset(words - (_BETWEEN_NAMES - {"force", "net"}))
