"""What the words and symbols before a value say of what it is: which sort, of which force."""

from __future__ import annotations

import re
from dataclasses import dataclass

from leverstep.claims.quantities import Quantities, Quantity
from leverstep.course.problem import Problem
from leverstep.course.symbols import spelt

_WORDS: dict[str, tuple[str, ...]] = {
    "weight": ("weight", "weighs", "weigh", "gravity", "gewicht"),
    "mass": ("mass", "masses", "kilograms"),
    "moment": ("moment", "moments", "torque", "torques", "turning"),
    "arm": ("arm", "lever", "perpendicular", "leverage"),
    "distance": ("distance", "length", "com", "centre", "center", "cg", "from", "along"),
    "angle": ("angle", "slope", "degrees", "direction", "inclination"),
    "ratio": ("advantage", "ratio"),
    "reaction": (
        "reaction", "joint", "contact", "pivot", "fulcrum", "trestle", "support", "axis", "bearing",
        "socket", "hinge", "resultant",
    ),
    "force": ("force", "pull", "muscle", "muscles", "effort", "tension", "push", "bite", "tendon"),
}  # fmt: skip

_LETTERS: dict[str, tuple[str, ...]] = {
    "W": ("weight",), "G": ("weight", "force"), "w": ("weight",), "P": ("force", "weight"),
    "m": ("mass",), "M": ("moment", "force", "mass"), "T": ("force", "moment"),
    "d": ("distance", "arm"), "x": ("distance", "arm"), "l": ("distance", "arm"),
    "L": ("distance", "weight", "force"), "s": ("distance",), "r": ("arm", "distance"),
    "a": ("arm", "distance"), "h": ("distance", "arm"), "b": ("distance", "arm"),
    "F": ("force", "weight"), "E": ("force",), "B": ("force", "weight", "reaction"),
    "H": ("force", "reaction"), "Q": ("force", "weight"), "D": ("force", "distance"),
    "A": ("weight", "force", "reaction"), "S": ("force", "weight"), "K": ("force",),
    "R": ("reaction", "weight", "force"), "J": ("reaction",), "N": ("reaction", "force"),
    "C": ("reaction", "force"), "V": ("reaction", "force"), "Z": ("force", "reaction"),
    "theta": ("angle",), "alpha": ("angle",), "beta": ("angle",), "gamma": ("angle",),
    "phi": ("angle",), "X": ("force", "reaction"), "Y": ("force", "reaction"),
    "k": ("ratio",), "i": ("ratio",),
}  # fmt: skip
"""What a letter mostly stands for, the likeliest first."""

_ACROSS = {"perpendicular", "across", "turns", "turning", "angles", "rotates", "rotating"}
_UP, _DOWN = {"up", "upward", "upwards"}, {"down", "downward", "downwards"}
_RIGHT, _LEFT = {"right", "rightward", "rightwards"}, {"left", "leftward", "leftwards"}
_CLOCKWISE = {"cw", "clockwise"}
_ANTICLOCKWISE = {"ccw", "acw", "anticlockwise", "counterclockwise"}


@dataclass(frozen=True, slots=True)
class Label:
    """What stands before a value: the words, the symbol, and the words behind."""

    words: frozenset[str]
    symbol: str = ""
    behind: frozenset[str] = frozenset()
    of: frozenset[str] = frozenset()
    """Words of the force whose symbol stands among the words: `arm of W`."""

    @property
    def sense(self) -> dict[str, int]:
        """Return the directions that words tell: `y` 1 for up, `x` 1 for right, `turn` 1 for ccw."""
        there = self.words | self.behind
        found = {}
        for name, plus, minus in (
            ("y", _UP, _DOWN),
            ("x", _RIGHT, _LEFT),
            ("turn", _ANTICLOCKWISE, _CLOCKWISE),
        ):
            if bool(there & plus) != bool(there & minus):
                found[name] = 1 if there & plus else -1
        return found


def label_of(before: str, symbol: str, behind: str) -> Label:
    """Return the label of a value."""
    text = re.sub(r"(?i)\b(?:anti|counter)[\s-]clockwise\b", "anticlockwise", before)
    text_behind = re.sub(r"(?i)\b(?:anti|counter)[\s-]clockwise\b", "anticlockwise", behind)
    parts = symbol.split("_")
    words = _words(text) | {p.lower() for p in parts[1:] if len(p) > 2}
    return Label(frozenset(words), symbol, frozenset(_words(text_behind)))


def _words(text: str) -> set[str]:
    return {word.lower() for word in re.findall(r"[^\W\d_]+", text)}


class Names:
    """What words and symbols may stand for in a problem."""

    def __init__(self, quantities: Quantities) -> None:
        self.quantities = quantities
        problem = quantities.question.problem
        self.exact = {key for key in quantities.all if quantities.all[key].step is not None}
        self.exact |= {
            q.key for q in quantities.all.values() if re.fullmatch(r"[A-Za-z]+_\w+", q.key)
        }
        self.signs = {given.sign: given for given in quantities.question.givens if given.sign}
        self.words_of_force = {
            f.symbol: _force_words(problem, f.symbol) for f in problem.posture.forces
        }
        self.words_of_force["body"] = {"body", "person", "whole", "weight"}
        common: dict[str, int] = {}
        for words in self.words_of_force.values():
            for word in words:
                common[word] = common.get(word, 0) + 1
        self.common = {word for word, count in common.items() if count > 1}
        # On a level segment only the upright part of a force turns it.
        self.across = "y" if problem.posture.inclination is None else ""
        self.effort = problem.posture.balancing.symbol if problem.posture.balancing else ""

    def key_of(self, symbol: str) -> str:
        """Return the quantity of the problem that is written so, "" where none is."""
        symbol = spelt(symbol)
        if symbol in self.exact:
            return symbol
        plain = symbol.replace("_", "").lower()
        near = [
            key
            for key in self.exact
            if key.replace("_", "").lower() == plain and key[0] == symbol[0]
        ]
        return near[0] if len(near) == 1 and len(symbol) > 1 else ""

    def fit(self, label: Label, quantity: Quantity) -> float:
        """Return how well a label fits a quantity: 0 where it says nothing of it, below it can't be."""
        return self._fit_of_words(label, quantity) + self._fit_of_symbol(label.symbol, quantity)

    def is_of_sort(self, label: Label, quantity: Quantity) -> bool:
        """Return whether a quantity is of a sort that the words name, where they name one."""
        sorts = self._sorts(label.words)
        family = quantity.sort
        alike = {
            family,
            {"arm": "distance", "weight": "force", "force": "weight"}.get(family, family),
        }
        return not sorts or bool(alike & sorts)

    def _fit_of_words(self, label: Label, quantity: Quantity) -> float:
        words = label.words
        score = 0.0
        sorts = self._sorts(words)
        if sorts:
            family = quantity.sort
            alike = {family, {"arm": "distance", "force": "weight"}.get(family, family)}
            score += 1.5 if family in sorts else (0.5 if alike & sorts else -0.5)
        for symbol, names in self.words_of_force.items():
            said = (words | label.of) & names
            if not said:
                continue
            strong = bool(said - self.common)
            if symbol in quantity.about:
                score += (2.0 if strong else 0.7) if len(quantity.about) == 1 else 0.3
            elif quantity.about and strong:
                score -= 1.0
        if words & {"total", "sum", "net", "altogether", "together", "all"}:
            score += 1.5 if quantity.whole else -0.7
        said_axis = words & (_UP | _DOWN | _LEFT | _RIGHT | {"forward", "forwards", "back"})
        if (
            quantity.axis
            and not said_axis
            and not words
            & {
                "vertical",
                "vertically",
                "horizontal",
                "horizontally",
                "x",
                "y",
                "part",
                "component",
            }
        ):
            score -= 0.3
        for axis, there in (
            ("y", _UP | _DOWN),
            ("x", _RIGHT | _LEFT | {"forward", "forwards", "back", "backwards"}),
        ):
            if words & there:
                score += 0.7 if quantity.axis == axis else (-0.7 if quantity.axis else 0.0)
        for axis, there in (
            ("y", {"vertical", "vertically", "y"}),
            ("x", {"horizontal", "horizontally", "x"}),
        ):
            if words & there or (axis == self.across and words & _ACROSS):
                score += 1.0 if quantity.axis == axis else (-1.0 if quantity.axis else 0.0)
        return score

    def _sorts(self, words: frozenset[str]) -> set[str]:
        """Return which sorts of quantities some words speak of, the most telling alone."""
        sorts = {sort for sort, there in _WORDS.items() if words & set(there)}
        is_limb = "arm" in words and any("arm" in names for names in self.words_of_force.values())
        is_limb = is_limb or ("arm" in words and bool(sorts & {"weight", "mass", "force"}))
        if is_limb and not words & {"lever", "moment", "perpendicular", "leverage"}:
            sorts.discard("arm")
        if words & {"centre", "center", "com", "cg"}:
            sorts.discard("mass")
        for telling, covered in (
            ("ratio", {"force", "weight", "arm", "distance", "moment"}),
            ("arm", {"moment", "force", "weight", "distance"}),
            ("moment", {"force", "weight", "reaction", "mass"}),
            ("angle", {"force", "reaction", "weight"}),
            ("distance", {"force", "weight", "reaction"}),
            ("mass", {"force"}),
            ("reaction", {"force"}),
            ("weight", {"force"}),
        ):
            if telling in sorts:
                sorts -= covered
        return sorts

    def _fit_of_symbol(self, symbol: str, quantity: Quantity) -> float:
        if not symbol:
            return 0.0
        symbol = spelt(symbol).removeprefix("Σ").removeprefix("sum")
        match = re.match(r"(theta|alpha|beta|gamma|phi|MA|AR|[A-Za-z])_?(.*)", symbol)
        if match is None:
            return 0.0
        letter, rest = match.groups()
        rest = rest.strip("_").lower()
        if letter in ("MA", "AR"):
            return 2.0 if quantity.key == letter else (-1.0 if quantity.family != "ratio" else 0.0)
        families = _LETTERS.get(letter, ())
        family = quantity.sort
        score = 0.0
        if family in families:
            score += 1.0 - 0.25 * families.index(family)
        elif families:
            score -= 0.8
        if quantity.family.startswith("sum"):
            score -= 0.3
        if rest in ("x", "h", "hor", "horiz") or rest.endswith("x"):
            score += 0.8 if quantity.axis == "x" else (-2.0 if quantity.axis == "y" else -1.2)
        elif rest in ("y", "v", "vert") or rest.endswith("y"):
            score += 0.8 if quantity.axis == "y" else (-2.0 if quantity.axis == "x" else -1.2)
        elif rest:
            score += self._fit_of_suffix(rest, quantity)
        elif quantity.axis and quantity.family != "reaction":
            score -= 0.2
        if (
            letter == "F"
            and not rest
            and self.effort in quantity.about
            and quantity.family == "force"
        ):
            score += 0.5
        if letter == "M" and not rest and quantity.whole:
            score += 0.3
        return score

    def _fit_of_suffix(self, rest: str, quantity: Quantity) -> float:
        """Return how well what follows the first letter fits: `_l`, `muscle`, `bag`, `1`."""
        if rest in ("tot", "total", "sum", "net", "res", "r"):
            return 0.8 if quantity.whole else -0.3
        best = 0.0
        for symbol in quantity.about:
            own = symbol.partition("_")[2].lower()
            words = self.words_of_force.get(symbol, set())
            if own and rest == own:
                best = max(best, 0.8)
            elif any(word.startswith(rest[:4]) for word in words) and (
                len(rest) > 2 or len(quantity.about) == 1
            ):
                best = max(best, 0.7 if len(rest) > 1 else 0.4)
            elif rest in ("m", "mus", "muscle", "b", "biceps", "t") and symbol == self.effort:
                best = max(best, 0.5)
        return best


def _force_words(problem: Problem, symbol: str) -> set[str]:
    """Return the words that a force is called by."""
    force = problem.posture.force(symbol)
    words = _words(problem.names[symbol])
    if force.own_weight:
        words |= _words(problem.segment)
    if force is problem.posture.effort and force.magnitude is None:
        words |= {"muscle", "muscles", "effort", "tendon"}
    for load in problem.posture.loads:
        if load.symbol == symbol and not load.own_weight and len(problem.posture.loads) <= 2:
            words |= {"load"}
    return words - {"and", "the", "of", "in", "with", "on", "a"}
