"""Lines typed as arithmetic with one factor wrong, and equations in symbols with one term wrong."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from leverstep.course.problem import Question
from leverstep.statics.acting import Force

from student.edits import Edit, Made, in_term_of, times
from student.late import left_out, wrong_sign
from student.lines import (
    INVERSE,
    OTHER_FUNCTION,
    Factor,
    Formula,
    Term,
    formula_text,
    in_symbols,
    product_text,
)
from student.moves import Move
from student.right import MASSES, gravity, line_factor, trig
from student.sheet import Sheet

Values = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Entry:
    """A line typed as arithmetic, with its unit, and what is wrong with it.

    `kind` is "right", "missing", "inverted", "extra", "replaced", "function", "sign" or "term
    missing"; `about` is the key of the quantity that it concerns (`W_l`, `d_l`, `g`,
    `pounds_per_kilogram`), or a number such as "100" where a unit goes to metres by it. `value` is
    what it comes to.
    """

    question: Question
    key: str
    text: str
    kind: str
    about: str
    value: float


def structural_entries(sheet: Sheet, key: str, values: Values) -> Iterator[Entry]:
    """Yield a line as arithmetic: right, then with each one thing wrong.

    Args:
        sheet: whose line it is.
        key: the line; it must be a number.
        values: what stands on the lines before it.
    """
    step, right = sheet.steps[key], sheet.formula(key, values)
    sheet = sheet.at(step)
    for kind, about, line in [("right", "", right), *_wrong_lines(sheet, key, values, right)]:
        try:
            value = line.value
        except ArithmeticError:
            continue
        unit = "" if line.shape in INVERSE else step.unit
        text = f"{formula_text(line)} {unit}".strip()
        yield Entry(sheet.question, key, text, kind, about, value)


WrongLine = tuple[str, str, Formula]
"""What is wrong, the key of the quantity it is wrong about, and the line."""


def _wrong_lines(sheet: Sheet, key: str, values: Values, right: Formula) -> Iterator[WrongLine]:
    """Yield the line with each one thing wrong."""
    yield from _factors_wrong(right)
    yield from _terms_wrong(sheet, key, right)
    yield from _factors_extra(sheet, key, values, right)
    yield from _arms_replaced(sheet, values, right)


def _factors_wrong(right: Formula) -> Iterator[WrongLine]:
    """Yield the line with a factor missing or inverted, or the other function."""
    one_each = all(len(term.factors) == 1 for term in right.terms)
    for number, factor in enumerate(right.all_factors):
        if right.shape in ("root", *INVERSE) or (one_each and number < len(right.terms) > 1):
            continue  # the factor is a whole term
        if len(right.all_factors) > 1 and factor.role != "given":
            yield "missing", factor.key, _changed(right, factor, power=0)
        if number and factor.role != "total":
            yield "inverted", factor.key, _changed(right, factor, power=-factor.power)
        if factor.function:
            other = OTHER_FUNCTION[factor.function]
            yield "function", factor.key, _changed(right, factor, function=other)


def _changed(line: Formula, factor: Factor, **fields: object) -> Formula:
    """Return a line with some fields of one factor changed."""
    new = replace(factor, **fields)  # type: ignore[arg-type]

    def put_in(factors: tuple[Factor, ...]) -> tuple[Factor, ...]:
        return tuple(new if one is factor else one for one in factors)

    terms = tuple(replace(term, factors=put_in(term.factors)) for term in line.terms)
    return replace(line, terms=terms, factors=put_in(line.factors))


def _terms_wrong(sheet: Sheet, key: str, right: Formula) -> Iterator[WrongLine]:
    """Yield the line with the sign of a term flipped, or a term missing."""
    name = sheet.steps[key].kind.name
    signed = name in ("moment", "couple_moment") or name.startswith("component_")
    for number, term in enumerate(right.terms):
        others = right.terms[:number] + right.terms[number + 1 :]
        keys = [factor.key for factor in term.factors]
        about = next((key for key in keys if key in sheet.steps), keys[0])
        several = len(right.terms) > 1 and right.shape != "root" and about.isidentifier()
        if several or signed:
            flipped = (*right.terms[:number], replace(term, sign=-term.sign))
            yield "sign", about, replace(right, terms=flipped + right.terms[number + 1 :])
        if others:
            yield "term missing", about, replace(right, terms=others)


def _factors_extra(sheet: Sheet, key: str, values: Values, right: Formula) -> Iterator[WrongLine]:
    """Yield the line with g, a conversion, a sine or cosine, used once too often."""
    step = sheet.steps[key]
    used = [f for f in right.all_factors if f.role in ("gravity", "conversion", "angle")]
    if step.kind.name in ("force", "moment", "couple_moment") and not any(
        f.key == "g" for f in used
    ):
        used.append(gravity(sheet))
    force = sheet.forces.get(step.about)
    turn = sheet.turned(force) if force is not None else None
    if step.kind.name in ("moment", "effort") and turn is not None and not right.factor("angle"):
        used.append(trig(sheet, turn, values, 1 if step.kind.name == "moment" else -1))
    for factor in used:
        yield "extra", factor.key, right.times(replace(factor, role="extra"))


def _arms_replaced(sheet: Sheet, values: Values, right: Formula) -> Iterator[WrongLine]:
    """Yield the line with another force's arm in place of its own."""
    arm = right.factor("arm")
    if arm is None:
        return
    for other in dict.fromkeys(sheet.arm_key(force) for force in sheet.posture.turning):
        if other != arm.key and other in values:
            yield "replaced", arm.key, _changed(right, arm, key=other, value=values[other])


# Equations


def equation(sheet: Sheet) -> Formula:
    """Return the moments of all forces as the terms of a sum, with their right values."""
    values = sheet.reference
    terms = []
    for force in sheet.posture.turning:
        size = line_factor(values, sheet.size_key(force), "size")
        arm = line_factor(values, sheet.arm_key(force), "arm")
        terms.append(Term((size, arm), force.symbol, sheet.sense(force)))
    for symbol, couple in sheet.couples.items():
        size = sheet.couple_size(couple, values)
        terms.append(Term((size,), symbol, sheet.sense_of_couple(couple)))
    return Formula(tuple(terms))


def equation_text(line: Formula, both_sides: bool) -> str:
    """Return an equation in symbols: all terms on the left, or the negative ones on the right."""
    sides: tuple[list[Term], list[Term]] = ([], [])
    for term in line.terms:
        moved = both_sides and term.sign < 0
        sides[moved].append(replace(term, sign=1) if moved else term)
    left, right = (_side(terms) for terms in sides)
    return f"{left} = {right}"


def _side(terms: list[Term]) -> str:
    """Return one side of an equation as typed; "0" where nothing stands on it."""
    text = ""
    for term in terms:
        mark = " - " if term.sign < 0 else " + "
        text += (mark if text else mark.strip(" +")) + product_text(term.factors, in_symbols)
    return text or "0"


def equation_moves(sheet: Sheet) -> list[Move]:
    """Return every wrong move in a moment equation, each in the term of one force."""
    found, key = [], sheet.keys["equation", ""]
    for force in sheet.posture.turning:
        for made in _term_moves(sheet, force):
            edit = partial(in_term_of, about=force.symbol, edit=made.edit)
            name = made.slip, key, force.symbol, made.other, made.variant
            found.append(Move(*name, edit))
    for symbol in sheet.couples:
        for made in _couple_moves(sheet, symbol):
            edit = partial(in_term_of, about=symbol, edit=made.edit)
            found.append(Move(made.slip, key, symbol, made.other, made.variant, edit))
    return found


def _couple_moves(sheet: Sheet, symbol: str) -> Iterator[Made]:
    """Yield the slips in the term of a couple: its sign, an arm with it, or all of it."""
    yield Made("sign-of-a-moment", partial(Formula.flipped, about=symbol))
    yield Made("load-left-out", partial(Formula.without, about=symbol))
    for force in sheet.posture.turning:
        arm = line_factor(sheet.reference, sheet.arm_key(force), "arm")
        yield Made("couple-times-an-arm", times(arm), other=force.symbol)


def _term_moves(sheet: Sheet, force: Force) -> Iterator[Made]:
    """Yield the slips in the term of a force: its sign, its arm, its size, or all of it."""
    yield Made(wrong_sign(sheet, force), partial(Formula.flipped, about=force.symbol))
    yield Made(left_out(sheet, force), partial(Formula.without, about=force.symbol))
    yield Made("arm-left-out-of-moment", _put("arm"))
    own = sheet.arm_key(force)
    for other in sheet.posture.turning:
        if sheet.arm_key(other) != own:
            arm = line_factor(sheet.reference, sheet.arm_key(other), "arm")
            yield Made("arm-of-another-force", _put("arm", arm), other=other.symbol)
    yield from _lengths(sheet, force)
    yield from _masses(sheet, force)
    turn = sheet.turned(force)
    if turn is not None:
        yield from _turned(sheet, force, turn)


def _put(role: str, *factors: Factor) -> Edit:
    """Return the edit that puts some factors, or none, in place of the one of a role."""

    def edit(line: Formula) -> Formula:
        (term,) = line.terms or (Term(()),)
        kept: list[Factor] = []
        for factor in term.factors:
            kept += factors if factor.role == role else [factor]
        return replace(line, terms=(replace(term, factors=tuple(kept)),) if line.terms else ())

    return edit


def _lengths(sheet: Sheet, force: Force) -> Iterator[Made]:
    """Yield the slips of a length of the segment in place of an arm."""
    length, values = sheet.posture.length, sheet.reference
    if length is None or force.at.perpendicular or force.at.sought:
        return
    if force.at.symbol != length.symbol:
        whole, at = values[length.symbol], values[force.at.symbol]
        yield Made("whole-length-for-the-arm", _put("arm", Factor(length.symbol, whole, "arm")))
        far = Factor(f"({length.symbol} - {force.at.symbol})", whole - at, "arm")
        yield Made("measured-from-wrong-end", _put("arm", far))


def _masses(sheet: Sheet, force: Force) -> Iterator[Made]:
    """Yield the mass in kilograms in place of a weight, also where only its part counts."""
    given, values = force.magnitude, sheet.reference
    key = sheet.keys.get(("mass", force.symbol)) if given is None else given.sign
    if key is None or (given is not None and given.unit not in MASSES):
        return
    mass = Factor(key, values[force.symbol] / sheet.constants["g"], "size")
    yield Made("given-in-moment", _put("size", mass))
    turn = sheet.turned(force)
    if turn is not None and sheet.size_key(force) != force.symbol:
        part = trig(sheet, turn, values, 1)
        yield Made("given-in-moment", _put("size", mass, part), variant="turned")


def _turned(sheet: Sheet, force: Force, turn: tuple[str, str]) -> Iterator[Made]:
    """Yield the slips of a sine or cosine that is in the arm, or in the part of the force."""
    by_part = sheet.size_key(force) != force.symbol
    role, key = ("size", force.symbol) if by_part else ("arm", force.at.symbol)
    plain = line_factor(sheet.reference, key, role)
    right = trig(sheet, turn, sheet.reference, 1)
    own = sheet.size_key(force) if by_part else sheet.arm_key(force)
    again = line_factor(sheet.reference, own, role)
    yield Made("angle-ignored", _put(role, plain))
    yield Made(
        "sine-for-cosine", _put(role, plain, replace(right, function=OTHER_FUNCTION[turn[0]]))
    )
    yield Made("sine-or-cosine-twice", _put(role, again, right))


def shares(line: Formula, symbols: tuple[str, ...]) -> tuple[float, ...]:
    """Return the term of each force, scaled to a length of 1 with the first positive.

    Two equations say the same where these are the same.
    """
    found = {term.about: term.number for term in line.terms}
    terms = [found.get(symbol, 0.0) for symbol in symbols]
    size = sum(term * term for term in terms) ** 0.5
    first = next((term for term in terms if term), 1.0)
    return tuple(term / (size if first > 0 else -size) for term in terms)
