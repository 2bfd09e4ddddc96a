"""Answers in words: which of them a text is, and of what it is said."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from leverstep.course.way_words import ways_told
from leverstep.entry.bearing_typed import bearing_typed, way_of_bearing
from leverstep.entry.tree import Unreadable
from leverstep.statics.centre_of_mass import INSIDE, OUTSIDE
from leverstep.statics.further import HOLDS, SLIPS
from leverstep.statics.kinds import WordChoice
from leverstep.statics.step import Step

LONGEST_ANSWER = 60
"""Characters of the longest answer in words that is read."""

UP = ("up", "upward", "upwards", "↑", "+")
DOWN = ("down", "downward", "downwards", "↓", "-", "−")
LEFT = ("left", "leftward", "leftwards", "←")
RIGHT = ("right", "rightward", "rightwards", "→")
FORWARD = ("forward", "forwards")
BACKWARD = ("backward", "backwards", "back")
"""Words and signs for the ways that a force may point; whoever is drawn faces to the right."""
WAYS: Mapping[str, int] = {
    **dict.fromkeys(UP, 1), **dict.fromkeys(DOWN, -1),
    **dict.fromkeys((*RIGHT, *FORWARD), 3), **dict.fromkeys((*LEFT, *BACKWARD), -3),
}  # fmt: skip
"""Each of them with its part of a direction as a number."""
_WAYS_ASKED = {**WAYS, "u": 1, "d": -1, "r": 3, "l": -3}
"""With the letters that may stand for one where a way is asked for, and nothing else is meant."""
_NO_WAY = frozenset({"none", "nowhere", "neither", "nothing"})
"""Words for the direction of a force that comes to nothing."""

CLASSES_IN_WORDS = ("first", "second", "third")
_CLASSES: Mapping[str, float] = {
    **dict.fromkeys(("1", "first", "1st", "i", "one"), 1),
    **dict.fromkeys(("2", "second", "2nd", "ii", "two"), 2),
    **dict.fromkeys(("3", "third", "3rd", "iii", "three"), 3),
}
_EFFECTS: Mapping[str, float] = {
    **dict.fromkeys(
        ("compression", "compressive", "compresses", "compressed", "compress", "presses",
         "pressed", "pressing", "pushes", "pushed", "squeezes", "squeezed", "c"), 1,
    ),
    **dict.fromkeys(
        ("tension", "tensile", "pulls", "pulled", "pulling", "stretches", "stretched",
         "distraction", "distracts", "distracted", "t"), -1,
    ),
    **dict.fromkeys(("neither", "nothing", "none"), 0),
}  # fmt: skip
"""Words for what a force does to a segment lengthwise."""
_SUPPORTED: Mapping[str, float] = {
    **dict.fromkeys(("inside", "within", "in", "yes", "over"), INSIDE),
    **dict.fromkeys(("outside", "out", "beyond", "no"), OUTSIDE),
}
_INSIDE_OR_NOT = ("inside", "within", "outside", "beyond")
"""Words that answer it with more words beside them; `in` and `over` may mean anything then."""
_DENIALS_OF_PLACE = frozenset({"not", "no", "isn't"})
_OF_GRAVITY = (
    frozenset(
        {"so", "therefore", "thus", "then", "still", "longer", "lies", "now"}
        | {"centre", "center", "mass", "com", "cog", "cm", "weight", "projection", "person"}
    )
    | _DENIALS_OF_PLACE
)
"""What may stand before them: of anything else it is not asked whether it is inside."""
_HELD: Mapping[str, float] = {
    **dict.fromkeys(("holds", "hold", "held", "holding", "enough", "sticks", "stick"), HOLDS),
    **dict.fromkeys(("slips", "slip", "slipping", "slides", "slide", "sliding"), SLIPS),
}
_ANSWERED: Mapping[str, float] = {"yes": HOLDS, "no": SLIPS}
"""What answers the question whether it holds, where nothing more is said."""
_DENIAL = r"(?:\b(?:not|never|cannot)\b|n't\b|\b(?:do|does|did|wo|ca|is|are)nt\b)"
_DENIED = re.compile(
    rf"(?:{_DENIAL}(?:\s+(?:it|really|ever|quite|then|be|going|to))*\s+|\bno\s+(?!holds\b|slips\b))"
    rf"(?:{'|'.join(_HELD)})\b"
)
"""A denial of what a support does, and of nothing else: `no grip left, it slips` has none."""
_UNCLEAR = re.compile(
    rf"{_DENIAL}|\b(?:nothing|nobody|neither|none|impossible|unlikely)\b|\bno\s*$"
    r"|\bno\s+(?:chance|danger|risk|way|need|question|possibility)\b"
    r"|\bwithout\s+(?:slip|slid|hold)"
)
"""What may deny what a support does in other words: `slipping is not possible`."""
_SUPPOSED = re.compile(
    r"\b(?:if|would|unless|until|might|may|must|should|whether|or|that|for|long|need\w*|before)\b"
    r"|\bto (?:not )?(?:hold|stick|slip|slide)"
    r"|\b(?:stop|prevent|keep|kept|hardly|barely|condition|limit|safe)\w*\b"
    r"|\b(?:from|against|check\w*)\s+(?:hold|stick|slip|slid)"
)
"""What makes of it a condition, or something supposed or held off."""
_QUESTION = re.compile(r"^\s*(?:do|does|did|will|can|is)\s+(?!not\b)(?!.*n't)")
"""What begins a clause that asks, though it may have no question mark."""
_CLAUSES = re.compile(r"(?<=\?)|[,;:.→]\s|\b(?:and|so|but|because|since|as|therefore)\b")
"""What parts the clauses of an answer, each with a denial of its own."""

_MARKS = re.compile(r"^\s*(?:[-*•]+|\(?[a-h1-9]\))\s+|^\s*\*+|[\s.:*]+$")
"""What may stand before and after an answer: a bullet or a number of a list, stars, a colon."""
_FILLER = frozenset(
    {"straight", "class", "lever", "a", "the", "and", "to", "it", "is", "points", "of"}
    | {"reaction", "force", "joint", "direction", "acts"}
    | {"base", "support", "line", "gravity", "falls", "its"}
)
_LENGTHWISE = ("together", "apart", "lengthwise")
"""Words that say no more of an effect."""

_LABEL = re.compile(
    r"^\s*(?:(?P<class>class|lever)|(?P<direction>R_dir|direction|R(?=\s+at\s+[0-9]))"
    r"|(?P<effect>R_effect|effect)|(?P<support>base(?: of support)?))"
    r"(?:\s?(?P<mark>[1-9])(?=\s*[:=]))?\s*[:=]?\s*(?=\S)",
    re.IGNORECASE,
)
"""What may stand before an answer in words, by what it is about (`WordChoice`), and the mark of the
posture that it is said of: `direction 2: up`."""


@dataclass(frozen=True, slots=True)
class Said:
    """An answer in words, with what it is said to be of: "" for both where that is not said."""

    about: str
    mark: str
    answer: str

    def may_be(self, step: Step) -> bool:
        """Return whether it may be an answer at a step."""
        fits = step.kind.words is not None and self.about in ("", step.kind.words)
        return fits and self.mark in ("", step.mark)


def named_in_words(text: str) -> Said:
    """Return an answer in words, separated from what stands before it."""
    label = _LABEL.match(text)
    if label is None:
        return Said("", "", text)
    about = next(name for name, found in label.groupdict().items() if found and name != "mark")
    return Said(about, label["mark"] or "", text[label.end() :])


def read_answer(text: str, about: WordChoice) -> float:
    """Return an answer in words as the number that stands for it on a line about this.

    Raises:
        Unreadable: where it is none.
    """
    return _READERS[about](text)


def _words(text: str) -> list[str]:
    """Return the words of a short answer, filler left out."""
    if len(text) > LONGEST_ANSWER:
        raise Unreadable("too_many_words")
    text = _MARKS.sub("", re.sub(r"(?<=[a-z])[-&](?=[a-z])|\s&\s", " ", text.lower()))
    if not text.strip():
        raise Unreadable("nothing")
    parts = re.split(r"[\s,;]+", text.strip().lower().rstrip("."))
    return [part for part in parts if part not in _FILLER]


def _read_class(text: str) -> float:
    words = _words(text)
    if len(words) != 1 or words[0] not in _CLASSES:
        raise Unreadable("no_class")
    return _CLASSES[words[0]]


def _read_supported(text: str) -> float:
    """Return whether the line of gravity is said to fall inside the base: `outside, he topples`."""
    words = _words(text)
    if len(words) == 1 and words[0] in _SUPPORTED:
        return _SUPPORTED[words[0]]
    told = [word for word in words if word in _INSIDE_OR_NOT]
    if not told or any(map(str.isdigit, text)):
        raise Unreadable("not_inside")
    before = words[: words.index(told[0])]
    found = {_SUPPORTED[word] for word in told}
    if len(found) != 1 or not _OF_GRAVITY.issuperset(before):
        raise Unreadable("not_inside")
    (place,) = found
    is_denied = not _DENIALS_OF_PLACE.isdisjoint(before)
    return INSIDE + OUTSIDE - place if is_denied else place


def _read_effect(text: str) -> float:
    """Return what is done lengthwise as a number: 1 compression, -1 tension."""
    words = [word for word in _words(text) if word not in _LENGTHWISE]
    found = {_EFFECTS.get(word) for word in words}
    if len(found) != 1 or None in found:
        raise Unreadable("no_effect")
    return _EFFECTS[words[0]]


def _read_hold(text: str) -> float:
    """Return whether a support is said to hold or to slip: `it does not slip`, `no, it slips`."""
    words = _words(text)
    if len(words) == 1 and words[0] in _ANSWERED:
        return _ANSWERED[words[0]]
    found: set[float] = set()
    asked: float | None = None
    for clause in _CLAUSES.split(text.lower().replace("’", "'")):
        said = _held_in(clause)
        if said is None and asked is not None:  # `will it slip? yes`
            answer = {"yes", "no"}.intersection(_words_in(clause))
            said = {"yes": asked, "no": _other(asked)}[answer.pop()] if len(answer) == 1 else None
        asked = said if clause.endswith("?") or _QUESTION.match(clause) else None
        if said is not None and asked is None:
            found.add(said)
        elif found and clause.strip() == "no":  # `slips: no`
            raise Unreadable("no_hold")
    if len(found) != 1 or _SUPPOSED.search(text.lower()):
        raise Unreadable("no_hold")
    return found.pop()


def _held_in(clause: str) -> float | None:
    """Return what one clause says of a support, None where it says nothing of it."""
    found = {_HELD[word] for word in _words_in(clause) if word in _HELD}
    if len(found) != 1:
        return None
    (said,) = found
    if _DENIED.search(clause):
        return _other(said)
    if _UNCLEAR.search(clause):
        raise Unreadable("no_hold")
    return said


def _other(held: float) -> float:
    """Return the other of the two things that a support may do."""
    return SLIPS if held == HOLDS else HOLDS


def _words_in(clause: str) -> list[str]:
    return re.findall(r"[a-z']+", clause)


def _read_direction(text: str) -> float:
    """Return a direction as a number: 3 x (1 right, -1 left) + (1 up, -1 down), 0 for none."""
    bearing = bearing_typed(text)
    if bearing is not None:
        return way_of_bearing(bearing)
    words = _words(ways_told(text))
    if words and _NO_WAY.issuperset(words):
        return 0.0
    found = [_WAYS_ASKED.get(word, 0) for word in words]
    sizes = sorted(abs(code) for code in found)
    if sizes not in ([1], [3], [1, 3]):
        raise Unreadable("no_direction")
    return float(sum(found))


_READERS: Mapping[WordChoice, Callable[[str], float]] = {
    WordChoice.CLASS: _read_class,
    WordChoice.DIRECTION: _read_direction,
    WordChoice.EFFECT: _read_effect,
    WordChoice.SUPPORT: _read_supported,
    WordChoice.HOLD: _read_hold,
}
