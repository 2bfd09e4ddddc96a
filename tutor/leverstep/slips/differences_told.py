"""What the arithmetic of a wrong entry has otherwise than its line, in words."""

from __future__ import annotations

import re
from collections.abc import Iterable

from leverstep.comparing.differences import Difference
from leverstep.course.symbols import sign_of
from leverstep.statics import kinds
from leverstep.statics.choices import CONVENTIONS
from leverstep.working.working import Working
from leverstep.working.writing import constant


def differences_told(working: Working, differences: Iterable[Difference]) -> str:
    """Return what the arithmetic of a wrong entry shows of itself, "" where there is nothing."""
    told = list(dict.fromkeys(_difference(working, one) for one in differences))
    return f"In what you typed, {' and '.join(told)}." if told else ""


def _difference(working: Working, found: Difference) -> str:
    """Return one difference as a clause: `9.81 is missing`."""
    if not found.about and found.what in _OF_ALL:
        return _OF_ALL[found.what]
    about = quantity_named(working, found.about)
    typed = quantity_named(working, found.typed)
    match found.what:
        case "missing":
            return f"{about} is missing"
        case "inverted":
            done, needed = (
                ("divides", "should multiply")
                if found.power > 0
                else ("multiplies", "should divide")
            )
            return f"{about} {done} where it {needed} in this line"
        case "extra":
            return f"{about or typed} is one factor too many"
        case "added":
            return f"{about} is added where it should multiply"
        case "extra term":
            return f"the term {typed} is one too many"
        case "rounded":
            return f"{typed} stands for {about}, cut to too few figures"
        case "unsigned":
            return f"the sign before {about} is missing"
        case "sign":
            return f"the sign before {about} is the wrong way round"
    return f"{typed} stands where {about} belongs{_that_is(working, found)}"


_OF_ALL = {
    "inverted": "the ratio is upside down",
    **dict.fromkeys(("sign", "unsigned"), "all signs are the wrong way round"),
}
"""What is said of a difference that no one quantity has."""


def _that_is(working: Working, found: Difference) -> str:
    """Return which line has the value that stands in the place of another, "" where none has."""
    if not found.line:
        return ""
    question = working.question
    step = question.derivation.step(found.line)
    is_part = step.kind is kinds.MOMENT and found.about == question.at(step).key(kinds.SUM)
    return f" (that is the value of {sign_of(found.line)}{' alone' if is_part else ''})"


def quantity_named(working: Working, what: str) -> str:
    """Return how a quantity is called on paper: `W_l`, `g`, `11.0 lb`, `cos(θ)`."""
    givens = {given.key: given for given in working.question.givens}

    def named(match: re.Match[str]) -> str:
        word = match.group()
        if word in CONVENTIONS:
            return CONVENTIONS[word].sign or constant(working.question, word)
        given = givens.get(word)
        if given is None:
            return sign_of(word)
        return sign_of(given.sign) if given.unit == "deg" else working.question.written(given)

    return re.sub(r"[A-Za-z]\w*", named, what) if not what[:1].isdigit() else what
