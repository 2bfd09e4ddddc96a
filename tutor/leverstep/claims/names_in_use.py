"""What words and symbols may stand for in a problem, and how well a label fits a quantity."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Set
from dataclasses import replace
from functools import lru_cache

from leverstep.claims import weights
from leverstep.claims.labels import (
    ACROSS,
    ALONG,
    AXES,
    DIMENSION_OF_SORT,
    DIRECTIONS,
    OF_MUSCLES,
    WORDS_OF_SORTS,
    ValueLabel,
    sorts_named,
    words_in,
)
from leverstep.claims.near_numbers import is_near
from leverstep.claims.page_quantities import ACROSS_AXIS, ALONG_AXIS, PageQuantities, Quantity
from leverstep.claims.quantity_values import unasked_arm_key
from leverstep.claims.symbol_fit import (
    axis_of_symbol,
    fit_of_symbol,
    index_in_words,
    is_of_force,
    is_of_sum,
)
from leverstep.course.problem import Problem
from leverstep.course.symbols import joined_up, spelt
from leverstep.statics import kinds
from leverstep.statics.units import ANGLE, FORCE, MASS, Dimension

TOTALS = frozenset({
    "total", "tot", "sum", "add", "adding", "added", "net", "altogether", "together", "all", "both",
    "combined", "overall",
})  # fmt: skip
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
_PERSONS = {
    "body", "person", "walker", "gymnast", "skater", "climber", "dancer", "patient", "athlete",
    "man", "woman", "girl", "boy", "child", "student", "worker", "trainee",
}  # fmt: skip
"""Names of a force that is the weight of someone whole, who is then "the body" too."""
_SIGNS = "FWMGRTPdamr"
"""Letters that are written before the name of a force, as in `Fmuscle`."""
_OF_REACTION = ("R", "J")
"""Letters of a reaction, before the name of its joint: `R_wrist`."""
_OF_FORCE = "F"
"""The letter of any force, the reaction too: `F_wrist` may be that of a muscle named so."""
_SHORTENED = 4
"""So many letters of a name stand for it, as in `Fquad`."""
_BEGINS = (
    r"(?:^|[;,.:]|\b(?:so|and|then|thus|but|hence|therefore|now|because|with|that)\b)\W*"
    r"(?:(?:so|and|then|the|a|at|in|on|of|my|whole|total|net|check|joint)\s+)*"
)
"""What a sentence begins with, up to what acts in it."""
_FORCE_OF = (
    r"(?:force|load|pressure|push|compression)\s+(?:at|in|on|of|from|by)\s+(?:the\s+)?(?:\w+\s+)?"
)
_MORE_OF_AXIS = (
    r"(?:joint|bone|force|load|pressure|vertical(?:ly)?|horizontal(?:ly)?|itself|on|up|down)"
)
"""What may stand between the name of the axis and what it does."""
_ACTS = (
    r"(?:push|press|carr|hold|support|bear|pull|tak|react|feel|act|giv|get|is|has|loaded|must)\w*"
)
"""What is said of a force that acts: `pushes up`, `carries`, `takes`."""
_RELATED = {"arm": "distance", "force": "weight"}
"""The other sort that people name where they mean one."""


class NamesInUse:
    """The symbols of a problem and the words for its forces."""

    def __init__(self, quantities: PageQuantities) -> None:
        self.quantities = quantities
        problem = quantities.question.problem
        posture = problem.posture
        views = [view.problem for view in quantities.question.views]
        self.exact = {key for key, quantity in quantities.all.items() if quantity.has_symbol}
        self.given = {given.sign for given in quantities.question.givens if given.sign}
        self.words_of_force = {
            force.symbol: _force_words(view.problem, force.symbol)
            for view in quantities.question.views
            for force in view.problem.posture.forces
        }
        whole = [force for force in self.words_of_force if problem.names.get(force) in _PERSONS]
        body = frozenset({"body", "person", "whole", "weight"})
        self.words_of_force["body"] = frozenset() if len(whole) == 1 else body
        if len(whole) == 1:
            self.words_of_force[whole[0]] |= body
        count = Counter(word for words in self.words_of_force.values() for word in words)
        self._postures = _posture_words(views)
        self.common = {word for word, times in count.items() if times > 1}
        self.common.update(*self._postures.values())
        self.all_words = frozenset(count)
        self.joined = _joined(self.all_words)
        right = quantities.right
        self.across_force = {
            f.at.symbol
            for f in posture.forces
            if f.at.symbol in right
            and is_near(right.get(unasked_arm_key(f), 0.0), right[f.at.symbol], 0.0)
        }
        # On a level segment only the upright part of a force turns it.
        self.across = "y" if posture.inclination is None else ""
        self.symbols_in_words = self.all_words - self.common - WORDS_OF_SORTS
        self.words_of_axis = words_in(problem.axis) | {"joint"}
        joints = "|".join(re.escape(one) for one in sorted({view.axis for view in views}))
        self._about_axis = re.compile(rf"(?i)\b(?:about|around|round)\s+(?:the\s+)?(?:{joints})\b")
        called = words_in(problem.reaction) - _BETWEEN_NAMES - self.all_words
        self.words_of_reaction = called | {"reaction", "joint"}
        self._force_at_axis = _force_at_axis(problem)
        self.effort = posture.balancing.symbol if posture.balancing else ""
        muscle = posture.effort.symbol if posture.effort else self.effort
        self.words_of_muscle = self.words_of_force.get(muscle, frozenset()) | OF_MUSCLES
        self._undone = {
            quantity.opposite_of
            for quantity in quantities.all.values()
            if quantity.is_line_of(kinds.NET_MOMENT)
        }
        self._mark = posture.mark
        self._joints = {view.posture.mark: words_in(view.axis) for view in views}
        self._sorts: dict[frozenset[str], frozenset[str]] = {}

    def key_of(self, symbol: str) -> str:
        """Return the quantity of the problem that is written so, "" where none is."""
        symbol = spelt(symbol)
        if symbol in self.exact:
            return symbol
        if len(symbol) < 2 or symbol == 2 * symbol[0]:
            return ""  # `MM` may be all of the moments
        near = [key for key in self.exact if _is_spelt_like(symbol, key)]
        return near[0] if len(near) == 1 else ""

    def posture_named(self, words: Set[str]) -> str:
        """Return the mark of the one posture that words speak of, "" where there is none."""
        named = [mark for mark, own in self._postures.items() if words & own]
        return named[0] if len(named) == 1 else ""

    def fit(self, label: ValueLabel, quantity: Quantity) -> float:
        """Return how well a label fits a quantity: 0 where it says nothing, less where it can't."""
        axis = self._axis_named(label.symbol)
        is_for_reaction = bool(axis) and label.symbol.startswith(_OF_REACTION)
        may_be_its = quantity.family == "reaction" or not is_for_reaction
        is_at_axis = bool(axis) and may_be_its and axis in self._axes_of(quantity)
        if is_at_axis or is_for_reaction:
            label = replace(label, words=label.words - {axis})
        words = (
            self._fit_of_sort(label, quantity)
            + self._fit_of_forces(label, quantity)
            + self._fit_of_axis(label, quantity)
        )
        if totals := label.words & TOTALS:
            is_named = quantity.whole and (totals != {"net"} or not self._is_undone(quantity))
            words += weights.WHOLE_NAMED if is_named else weights.NOT_A_WHOLE
        if "net" in label.words and quantity.step is not None:
            words += weights.NET_NAMED * (quantity.step.kind is kinds.NET_MOMENT)
        if label.symbol in self.all_words or label.symbol.lower() in WORDS_OF_SORTS:
            return words  # a name is told by its words, not by its first letter
        if is_at_axis:
            letter = 0.0 if is_for_reaction else weights.LETTER_COMMON
            return words + weights.INDEX_OWN + letter
        if is_for_reaction:
            return words + weights.OTHER_FORCE
        return words + fit_of_symbol(label.symbol, quantity, self.effort, self.words_of_force)

    def _axis_named(self, symbol: str) -> str:
        """Return the joint that the symbol of a force is named by: `R_wrist`; "" without one."""
        if not symbol.startswith((*_OF_REACTION, _OF_FORCE)) or len(symbol) <= _SHORTENED:
            return ""
        index = index_in_words(symbol)
        return index if any(index in words for words in self._joints.values()) else ""

    def _axes_of(self, quantity: Quantity) -> Set[str]:
        """Return the words for the axis that a force acts at: a reaction, or one handed on."""
        step = quantity.step
        if step is not None and step.kind is kinds.HANDED_FORCE:
            return self._axes_of(self.quantities.all[quantity.opposite_of])
        if quantity.family != "reaction":
            return frozenset()
        return self._joints[step.mark if step is not None else self._mark]

    def label_of_symbol(self, symbol: str) -> ValueLabel:
        """Return the label of a symbol alone; one that is a word tells what that does."""
        words = {symbol.lower()} & self.all_words
        if not words and len(symbol) > _SHORTENED - 1 and self.speaks_of_axis(symbol):
            words = {"reaction"}
        return ValueLabel(frozenset(words), symbol)

    def is_of_sort(self, label: ValueLabel, quantity: Quantity) -> bool:
        """Return whether a quantity is of a sort that the words name, where they name one."""
        sorts, sort = self._sorts_of(label.words), quantity.sort
        return (
            not sorts
            or (sort == "angle" and sorts <= {"force", "weight", "reaction"})
            or sort in sorts
            or _RELATED.get(sort) in sorts
            or (sort == "weight" and "force" in sorts)
            or (quantity.key in self.across_force and "arm" in sorts)
            or self._is_of_muscles(label.words, quantity)
        )

    def may_be_of_sort(
        self, label: ValueLabel, quantity: Quantity, dimension: Dimension | None
    ) -> bool:
        """Return whether the words for sorts that go with a unit leave a quantity possible.

        A muscle is named as a force and as what has an arm; any force may be called one.
        """
        sorts = {
            sort
            for sort in self._sorts_of(label.words - OF_MUSCLES)
            if dimension is None or DIMENSION_OF_SORT.get(sort) in (dimension, None)
        }
        if not sorts or quantity.sort in sorts or _RELATED.get(quantity.sort) in sorts:
            return True
        if quantity.key in self.across_force and "arm" in sorts:
            return True
        return "force" in sorts and quantity.dimension in (FORCE, ANGLE)

    def is_force_whole(self, part: Quantity) -> bool:
        """Return whether the whole of a force has a line, of which a quantity is a component."""
        return any(
            one.step is not None
            and one.about == part.about
            and one.family == "force"
            and not one.axis
            for one in self.quantities.all.values()
        )

    def names_sort(self, label: ValueLabel, *among: str) -> bool:
        """Return whether the words name a sort of quantity, one of some where those are given."""
        sorts = self._sorts_of(label.words)
        return bool(sorts.intersection(among) if among else sorts)

    def axis_of(self, symbol: str) -> str:
        """Return the axis that the index of a symbol is of, "" where it is of none."""
        return "" if is_of_force(symbol, self.words_of_force) else axis_of_symbol(symbol)

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
        """Return whether a text speaks of the force at the axis: `force on the elbow`, `the log
        carries`, `so the joint`.
        """
        return self._force_at_axis.search(text) is not None

    def without_axis(self, text: str) -> str:
        """Return a text without what only tells the axis: `about the elbow`."""
        return self._about_axis.sub("", text)

    def joint_told(self, words: Set[str]) -> str:
        """Return the mark of the posture whose joint alone words name, "" for none."""
        named = {mark: own for mark, own in self._joints.items() if words & own}
        return next(iter(named)) if len(named) == 1 else ""

    def names_whole(self, label: ValueLabel) -> bool:
        """Return whether the words speak of a total, and not of any two."""
        return bool(label.words & (TOTALS - {"both"}))

    def names_sum(self, label: ValueLabel) -> bool:
        """Return whether words or the symbol speak of a sum; a net moment may be of the muscles."""
        is_in_words = bool(label.words & (TOTALS - {"both", "net"}))
        return is_in_words or is_of_sum(label.symbol)

    def _is_undone(self, quantity: Quantity) -> bool:
        """Return whether a quantity is the moment that the net moment of the muscles balances."""
        return quantity.key in self._undone

    def _sorts_of(self, words: frozenset[str]) -> frozenset[str]:
        if words not in self._sorts:
            is_limb = not self.all_words.isdisjoint(("arm", "arms"))
            self._sorts[words] = sorts_named(words, is_limb)
        return self._sorts[words]

    @staticmethod
    def _is_of_muscles(words: Set[str], quantity: Quantity) -> bool:
        """Return whether words speak of the muscles, and a quantity is the net moment of them."""
        return quantity.is_line_of(kinds.NET_MOMENT) and not words.isdisjoint(OF_MUSCLES)

    def _fit_of_sort(self, label: ValueLabel, quantity: Quantity) -> float:
        sorts = self._sorts_of(label.words)
        if "couple" in label.words and quantity.step is not None:
            return weights.SORT_NAMED * (quantity.step.kind is kinds.HANDED_MOMENT)
        if not sorts:
            return 0.0
        if quantity.sort in sorts or self._is_of_muscles(label.words, quantity):
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
        if quantity.axis == ALONG_AXIS:
            return score + (weights.AXIS_NAMED if words & ALONG else 0.0)
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


def _force_at_axis(problem: Problem) -> re.Pattern[str]:
    """Return what a text has that speaks of the force at the axis of a problem."""
    acting = re.fullmatch(r"force of the (.+) on the .+", problem.reaction)
    named = set(problem.names.values())
    subjects = {"joint", *(acting.groups() if acting else ()), *_axis_by_itself(problem.axis)}
    first = {one.split()[0] for one in subjects} - {one.split()[0] for one in named}
    called = "|".join(sorted((subjects | first) - named, key=len, reverse=True))
    anywhere = "|".join(sorted(words_in(problem.axis) | {"joint"}))
    return re.compile(
        rf"^\W*(?:the |total )?force (?:at|in|on) (?:the )?(?:\w+ )?(?:{anywhere})\b"
        rf"|{_BEGINS}(?:{_FORCE_OF})?(?:{called})\b(?: {_MORE_OF_AXIS})*"
        rf"(?:\s*(?:$|[;:,=(])|\s+(?:then |also |must |has to |have to )?(?:{_ACTS}))",
        re.IGNORECASE,
    )


def _is_spelt_like(symbol: str, other: str) -> bool:
    """Return whether two symbols have the same letters, those of the index large or small."""
    has_letter = symbol[0] == other[0]
    return has_letter and joined_up(symbol).lower() == joined_up(other).lower()


def _posture_words(views: list[Problem]) -> dict[str, frozenset[str]]:
    """Return the words that tell each posture, by its mark, from the others: `near` and `far`."""
    words = {
        view.posture.mark: words_in(f"{view.segment} {view.axis}").union(
            *(words_in(view.names[force.symbol]) for force in view.posture.forces)
        )
        for view in views
    }
    if len(views) < 2:
        return {}
    return {
        mark: own.difference(*(other for one, other in words.items() if one != mark))
        for mark, own in words.items()
    }


def _axis_by_itself(axis: str) -> set[str]:
    """Return the names of an axis that is no point of something: `hip`, not `ball of the foot`."""
    return set() if " of " in axis else {axis}


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
