"""The wrong moves in moments, their sum, what they give, ratios and the reaction."""

# ruff: noqa: ARG001 (every kind of line is worked from the same three)

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from leverstep.statics.acting import Force, InertiaSize, SharedSize
from leverstep.statics.step import Step

from student.early import level_instead, measured_on, turned, unit_left
from student.edits import Edit, Made, in_term_of, inverted, put, shaped, times, whole, without
from student.lines import OTHER_FUNCTION, Factor, Formula, Term, product
from student.right import MASSES, line_factor
from student.sheet import Sheet
from student.sources import effort_slips

Values = Mapping[str, float]


def role(sheet: Sheet, force: Force) -> str:
    """Return whether a force is the "own" weight, the "effort", its "partner" or "antagonist", the
    "inertia" of a part, or another "load".
    """
    if force is sheet.posture.effort:
        return "effort"
    if force.antagonist or isinstance(force.source, InertiaSize):
        return "antagonist" if force.antagonist else "inertia"
    if isinstance(force.source, SharedSize):
        return "partner"
    return "own" if force.own_weight else "load"


def left_out(sheet: Sheet, force: Force, load: str = "load-left-out") -> str:
    """Return the slip of leaving a force out; `load` is the one for a load."""
    names = {
        "own": "own-weight-left-out", "effort": "effort-left-out", "load": load,
        "antagonist": "antagonist-left-out", "inertia": "inertia-left-out",
        "partner": "one-of-two-muscles-forgotten",
    }  # fmt: skip
    return names[role(sheet, force)]


def wrong_sign(sheet: Sheet, force: Force) -> str:
    """Return the slip of a moment of a force with the other sign."""
    is_inertia = role(sheet, force) == "inertia"
    return "inertia-with-the-motion" if is_inertia else "sign-of-a-moment"


def _arms(sheet: Sheet, force: Force, values: Values) -> Iterator[Made]:
    """Yield the slips of another arm in place of a force's own."""
    own = sheet.arm_key(force)
    for other in sheet.posture.turning:
        key = sheet.arm_key(other)
        if key != own and key in values:
            edit = put("arm", values[key], key)
            yield Made("arm-of-another-force", edit, force.symbol, other.symbol)
    if own != force.at.symbol:
        plain = put("arm", values[force.at.symbol], force.at.symbol)
        yield Made("angle-ignored", plain, force.symbol)
    length = sheet.posture.length
    if length is None or force.at.symbol == length.symbol or force.at.perpendicular:
        return
    whole_length, at = values[length.symbol], values[force.at.symbol]
    # Where the arm slants, the length goes in as it is, or with the sine or cosine of the arm.
    for turn, variant in _turns(own, force, values):
        far = put("arm", (whole_length - at) * turn, f"({length.symbol}-{force.at.symbol})")
        yield Made("measured-from-wrong-end", far, force.symbol, variant=variant)
        reach = put("arm", whole_length * turn, length.symbol)
        yield Made("whole-length-for-the-arm", reach, force.symbol, variant=variant)


def _turns(own: str, force: Force, values: Values) -> Iterator[tuple[float, str]]:
    """Yield what a length along the segment is multiplied by: nothing, then the arm's function."""
    yield 1.0, ""
    if own != force.at.symbol:
        yield values[own] / values[force.at.symbol], "turned"


def _once_more(sheet: Sheet, force: Force, values: Values, power: int) -> Iterator[Made]:
    """Yield the slip of a sine or cosine that is in an earlier line already."""
    turn = sheet.turned(force)
    if turn is not None:
        again = Factor(turn[1], sheet.angle(turn[1], values), "again", power, turn[0])
        yield Made("sine-or-cosine-twice", times(again), force.symbol)


def moment(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of one moment, a force times its arm."""
    force, about = sheet.forces[step.about], step.about
    yield Made(wrong_sign(sheet, force), shaped(sign=-1), about)
    if force.offset is not None:
        yield from _moment_of_parts(sheet, step, values)
        return
    yield Made("arm-divided", inverted("arm"), about)
    yield Made("arm-left-out-of-moment", without("arm"), about)
    yield from _arms(sheet, force, values)
    yield from _once_more(sheet, force, values, 1)
    yield from unit_left(sheet, force.at.symbol)
    turn = sheet.turned(force) if sheet.size_key(force) != force.symbol else None
    if turn is not None:
        plain = put("size", values[force.symbol], force.symbol)
        yield Made("angle-ignored", plain, about)
    for other in sheet.known():
        if other is not force:
            taken = put("size", values[sheet.size_key(other)], sheet.size_key(other))
            yield Made("another-force-with-this-arm", taken, about, other.symbol)
    for slip, variant, number in _masses(sheet, force, values):
        yield Made(slip, put("size", number), about, variant=variant)
        if turn is not None:
            part = number * values[sheet.size_key(force)] / values[force.symbol]
            yield Made(slip, put("size", part), about, variant=f"{variant} turned")


def _moment_of_parts(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the moment of a force beside the segment, by its two parts."""
    force, terms = sheet.forces[step.about], sheet.formula(step.key, values).terms
    for term in terms:
        distance = term.about
        if len(terms) > 1:
            flip = partial(Formula.flipped, about=distance)
            yield Made(wrong_sign(sheet, force), flip, step.about, distance)
            drop = partial(Formula.without, about=distance)
            yield Made("part-of-a-moment-left-out", drop, step.about, distance)
        for made in unit_left(sheet, distance):
            in_term = partial(in_term_of, about=distance, edit=made.edit)
            yield Made(made.slip, in_term, distance)


def handed_on(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slip of what the segment before does, with the sign that it has there."""
    yield Made("not-turned-round", shaped(sign=-1), step.about)


def couple(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a couple, which is a moment already."""
    yield Made("sign-of-a-moment", shaped(sign=-1), step.about)
    for force in sheet.posture.turning:
        arm = sheet.arm_key(force)
        if arm in values:
            yield Made(
                "couple-times-an-arm",
                times(line_factor(values, arm, "extra")),
                step.about,
                force.symbol,
            )


def _masses(sheet: Sheet, force: Force, values: Values) -> Iterator[tuple[str, str, float]]:
    """Yield slip, variant and number where a mass, or a force as given, goes in for newtons."""
    given = force.magnitude
    assert given is not None
    if given.key in sheet.numbers and given.unit != "N":
        yield "given-in-moment", "", sheet.numbers[given.key]
    elif given.unit in MASSES:
        yield "given-in-moment", "", values[given.key]
    of_weight = force.share is not None and force.share.of == "weight"
    if of_weight or (given.unit in MASSES and given.unit != "kg"):
        yield "kilograms-in-moment", "", values[force.symbol] / sheet.constants["g"]


def _terms(sheet: Sheet, values: Values) -> Iterator[Made]:
    """Yield a sign or a moment missing in the sum, also where the sum is made on a later line."""
    slips = {f.symbol: (wrong_sign(sheet, f), left_out(sheet, f)) for f in sheet.known()}
    slips |= dict.fromkeys(sheet.couples, ("sign-of-a-moment", "load-left-out"))
    for about, (other_way, missing) in slips.items() if len(slips) > 1 else ():
        flip = partial(Formula.flipped, about=about)
        drop = partial(Formula.without, about=about)
        for slip, edit in ((other_way, flip), (missing, drop)):
            made = partial(_summed, sheet=sheet, values=values, edit=edit)
            yield Made(slip, made, about)


def _summed(formula: Formula, sheet: Sheet, values: Values, edit: Edit) -> Formula:
    """Return a line with its sum of moments changed, the moments put in for the sum first."""
    if formula.factor("total") is None:
        return edit(formula)
    moments = sheet.moments(values)
    if formula.power < 0:  # the sum stands over the terms of the line
        return formula.changed("total", value=edit(Formula(moments)).value)
    return edit(replace(formula, terms=moments, factors=formula.all_factors[1:]))


def moment_sum(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the sum of the known moments."""
    yield from _terms(sheet, values)
    yield Made("opposite-convention", shaped(sign=-1))


def effort(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the force that balances the moments, or of it from its part."""
    force, about = sheet.forces[step.about], step.about
    yield Made("negative-effort", shaped(sign=-1), about)
    if sheet.formula(step.key, values).factor("total") is None:
        yield from turned(sheet, step, values)
        return
    yield from _terms(sheet, values)
    if sheet.posture.sharing:
        yield from effort_slips(sheet, step, values)
        return
    yield from _arms(sheet, force, values)
    yield Made("arm-multiplied", inverted("arm"), about)
    yield Made("arm-left-out-of-moment", without("arm"), about)
    yield from unit_left(sheet, force.at.symbol, 1)
    if step.kind.name == "effort":
        yield from _once_more(sheet, force, values, -1)
    if sheet.arm_key(force) != force.at.symbol:
        function, key = sheet.turned(force) or ("", "")
        swapped = Factor(key, sheet.angle(key, values), "angle", -1, OTHER_FUNCTION[function])
        plain = put("arm", values[force.at.symbol], force.at.symbol)
        yield Made("sine-for-cosine", lambda f: plain(f).times(swapped), about)


def mass(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of a mass in kilograms from a weight."""
    yield Made("newtons-left-as-kilograms", without("gravity"), step.about)
    yield Made("multiplied-by-gravity", inverted("gravity"), step.about)
    yield Made("ten-for-gravity", put("gravity", 10.0), step.about)


def place_found(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the distance at which a force balances the moments."""
    yield from _terms(sheet, values)
    yield Made("multiplied-by-the-force", inverted("size"), step.about)
    yield Made("force-left-out", without("size"), step.about)


def angle_found(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of an angle by the moment arm that its force must have."""
    about, shape = step.about, sheet.formula(step.key, values).shape
    other = "arccosine" if shape == "arcsine" else "arcsine"
    yield Made("asin-for-acos", shaped(shape=other), about)
    yield Made("atan-for-asin", shaped(shape="arctangent"), about)
    yield Made("angle-in-radians", shaped(radians=True), about)
    yield Made("obtuse-angle", shaped(taken_from=180.0), about)
    yield from unit_left(sheet, sheet.forces[about].at.symbol, 1)


def net_moment(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slip of the moment that the muscles must have."""
    yield Made("sign-of-the-net-moment", shaped(sign=-1))


# Ratios and the reaction


def advantage(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the ratio of the resistance to the effort."""
    yield Made("ratio-upside-down", shaped(upside_down=True))
    loads, effort = sheet.resisting(), sheet.posture.effort
    assert effort is not None
    for load in loads if len(loads) > 1 else ():
        slip = left_out(sheet, load, "one-load-in-the-ratio")
        yield Made(slip, partial(Formula.without, about=load.symbol), load.symbol)
    for load in sheet.posture.loads:
        if load not in loads:
            helper = product(line_factor(values, load.symbol, "load")).terms
            slip = "antagonist-as-resistance" if load.antagonist else "helper-counted"
            yield Made(slip, lambda f, h=helper: replace(f, terms=f.terms + h), load.symbol)
    asked = [sheet.forces[about] for kind, about in sheet.keys if kind == "arm_ratio"]
    for load in asked or loads:
        arms = (
            line_factor(values, sheet.arm_key(effort), "arm"),
            line_factor(values, sheet.arm_key(load), "arm", -1),
        )
        yield from _turned_over(sheet, step, values, product(*arms), load.symbol)
    yield from _not_in_newtons(sheet, sheet.formula(step.key, values).terms, values)


def _turned_over(
    sheet: Sheet, step: Step, values: Values, ratio: Formula, load: str = ""
) -> Iterator[Made]:
    """Yield the slip of the other ratio upside down, where the two are not the same ratio."""
    if not math.isclose(ratio.value, sheet.formula(step.key, values).value, rel_tol=0.01):
        over = whole(replace(ratio, upside_down=True))
        yield Made("other-ratio-upside-down", over, other=load)


def _not_in_newtons(sheet: Sheet, terms: Sequence[Term], values: Values) -> Iterator[Made]:
    """Yield the slips of a mass, or of a force as it is given, among forces in newtons."""
    masses = {}
    for term in terms:
        force = sheet.forces[term.about]
        given = force.magnitude
        if given is None or term.factors[0].key != force.symbol:
            continue
        if given.unit not in ("N", "kg"):
            as_given = partial(_put_in_term, about=term.about, size=sheet.numbers[given.key])
            yield Made("given-in-moment", as_given, term.about)
        if given.unit in MASSES or (force.share is not None and force.share.of == "weight"):
            masses[term.about] = values[force.symbol] / sheet.constants["g"]
            mass = partial(_put_in_term, about=term.about, size=masses[term.about])
            yield Made("mass-among-forces", mass, term.about)
    if len(masses) > 1:
        yield Made("mass-among-forces", partial(_put_in_terms, sizes=masses))


def _put_in_terms(formula: Formula, sizes: Mapping[str, float]) -> Formula:
    for about, size in sizes.items():
        formula = _put_in_term(formula, about, size)
    return formula


def _put_in_term(formula: Formula, about: str, size: float) -> Formula:
    """Return a line with another number for the force of one term."""
    terms = (
        replace(t, factors=(replace(t.factors[0], value=size), *t.factors[1:]))
        if t.about == about
        else t
        for t in formula.terms
    )
    return replace(formula, terms=tuple(terms))


def arm_ratio(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the ratio of two arms, where there is one of forces besides."""
    yield from arm_advantage(sheet, step, values)
    copied = product(line_factor(values, sheet.key("MA"), "copied"))
    yield Made("other-ratio", whole(copied))
    yield from _turned_over(sheet, step, values, copied)


def arm_advantage(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of two arms that are compared."""
    yield Made("ratio-upside-down", shaped(upside_down=True))
    effort, load = sheet.posture.effort, sheet.forces[step.about]
    assert effort is not None
    plain = (
        line_factor(values, effort.at.symbol, "arm"),
        line_factor(values, load.at.symbol, "arm", -1),
    )
    yield Made("angle-ignored", whole(product(*plain)))
    turns = (sheet.turned(effort), 1), (sheet.turned(load), -1)
    if sheet.posture.by_components and any(turn for turn, _ in turns):
        turned_too = [
            Factor(turn[1], sheet.angle(turn[1], values), "angle", power, turn[0])
            for turn, power in turns
            if turn is not None
        ]
        yield Made("arms-for-distances", whole(product(*plain, *turned_too)))


def reaction(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the reaction along an axis."""
    forces = tuple(force.symbol for force in sheet.posture.forces)
    yield from level_instead(sheet, step, values, forces, sign=-1)
    for slip in ("sign-of-the-reaction", "opposite-of-the-resultant"):
        yield Made(slip, shaped(sign=-1))
    terms = sheet.formula(step.key, values).terms
    yield from _not_in_newtons(sheet, terms, values)
    effort = [term for term in terms if sheet.forces[term.about] is sheet.posture.effort]
    if len(terms) > 2 and effort:
        alone = Formula(tuple(effort))
        yield Made("reaction-to-the-effort-alone", whole(alone))
    for symbol, one in sheet.couples.items():
        size = sheet.couple_size(one, values)
        for sign in (1, -1):
            among = product(size, about=symbol, sign=sign).terms
            edit = partial(_with_terms, more=among)
            yield Made("couple-among-the-forces", edit, symbol, variant=str(sign))
    for term in terms:
        force = sheet.forces[term.about]
        if len(terms) > 1:
            missing = (
                "own-weight-left-out" if role(sheet, force) == "own" else "left-out-of-the-reaction"
            )
            for slip in (missing, "left-out-of-the-resultant"):
                yield Made(slip, partial(Formula.without, about=term.about), term.about)
            for slip in ("sign-of-one-force", "sign-of-one-force-along"):
                yield Made(slip, partial(Formula.flipped, about=term.about), term.about)
        if term.factors[0].key != force.symbol:
            edit = partial(_whole_force, about=force.symbol, size=values[force.symbol])
            yield Made("whole-force-for-its-part", edit, force.symbol)


def _with_terms(formula: Formula, more: tuple[Term, ...]) -> Formula:
    return replace(formula, terms=formula.terms + more)


def _whole_force(formula: Formula, about: str, size: float) -> Formula:
    """Return a line with a whole force for its part, with the sign of that part."""

    def taken(factor: Factor) -> Factor:
        return replace(factor, key=about, value=size if factor.value > 0 else -size)

    terms = (
        replace(t, factors=tuple(map(taken, t.factors))) if t.about == about else t
        for t in formula.terms
    )
    return replace(formula, terms=tuple(terms))


def size(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the size of the reaction from its two parts."""
    yield Made("components-added", shaped(shape="added"))
    yield Made("components-subtracted", shaped(shape="taken"))
    yield Made("root-forgotten", shaped(shape="squares"))
    if sheet.posture.effort is not None:
        alone = product(line_factor(values, sheet.posture.effort.symbol, "copied"))
        yield Made("reaction-to-the-effort-alone", whole(alone))
    if step.kind.name == "resultant_size":
        sizes = [Term((line_factor(values, f, "size"),), f) for f in sheet.forces]
        yield Made("forces-added-as-numbers", whole(Formula(tuple(sizes))))
    for key in sheet.parts_of_reaction():
        yield Made("one-part-of-the-reaction", partial(Formula.without, about=key), key)


def reaction_angle(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the angle of the reaction to the horizontal."""
    yield Made("ratio-upside-down", shaped(upside_down=True))
    yield Made("angle-in-radians", shaped(radians=True))
    yield Made("obtuse-angle", shaped(taken_from=180.0))
    yield from measured_on("")
    given = [g.key for g in sheet.question.givens if g.unit == "deg"]
    lines = [key for (kind, _), key in sheet.keys.items() if kind in ("angle", "attachment_angle")]
    for key in dict.fromkeys([*given, *lines]):
        other = product(Factor(key, sheet.angle(key, values), "copied"))
        yield Made("angle-of-another-line", whole(other), other=key)


def lever_class(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the two wrong classes of lever."""
    for code, word in ((1.0, "first"), (2.0, "second"), (3.0, "third")):
        if code != sheet.right(step.key, values):
            yield Made(f"taken-as-{word}-class", put("word", code))


def effect(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield compression in place of tension, or the reverse."""
    yield Made("compression-for-tension", shaped(sign=-1))


def pair_force(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of one of two forces that balance the others."""
    terms = sheet.formula(step.key, values).terms
    for term in terms if len(terms) > 1 else ():
        turn_round = partial(Formula.flipped, about=term.about)
        yield Made("sign-in-the-balance", turn_round, term.about)
        if sheet.forces[term.about].magnitude is not None:
            leave_out = partial(Formula.without, about=term.about)
            yield Made("left-out-of-the-balance", leave_out, term.about)
    known = [force for force in sheet.posture.forces if force.magnitude is not None]
    if len(known) == 1:
        half = product(line_factor(values, known[0].symbol, "force"), Factor("", 0.5, "half"))
        yield Made("half-for-each-of-two", whole(half), step.about)
    yield from _not_in_newtons(sheet, terms, values)


def direction(sheet: Sheet, step: Step, values: Values) -> Iterator[Made]:
    """Yield the slips of the direction of the reaction, in words."""
    parts = {key: values[key] for key in map(sheet.key, ("R_x", "R_y")) if key in values}
    for slip in ("reaction-turned-round", "opposite-of-the-resultant"):
        yield Made(slip, shaped(sign=-1))
    for key in parts if len(parts) > 1 else ():
        flipped = sheet.right(step.key, {**values, key: -parts[key]})
        yield Made("part-turned-round", put("word", flipped), key)
        alone = sheet.right(step.key, {**values, key: 0.0})
        yield Made("one-part-of-the-direction", put("word", alone), key)
