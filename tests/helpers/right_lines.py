"""Lines that are right, but written as few would write them: made from a problem, by chance.

Each says something true of the quantities of a question, or states arithmetic that comes out so.
What it is about may be anyone's guess; to say that it is wrong would be wrong.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator, Mapping

from leverstep.claims.page_quantities import PageQuantities, Quantity
from leverstep.course.problem import Question
from leverstep.course.symbols import sign_of
from leverstep.statics.acting import Force
from leverstep.statics.line_keys import beside
from leverstep.statics.units import ANGLE, FORCE, LENGTH, MASS, MASS_LENGTH, MOMENT, known_unit

UNITS = {
    FORCE: (("N", 1.0), ("lbf", 4.4482), ("", 1.0)),
    MOMENT: (("N m", 1.0), ("N cm", 0.01), ("lbf in", 0.11298), ("", 1.0), ("", 0.01)),
    LENGTH: (("m", 1.0), ("cm", 0.01), ("mm", 0.001), ("in", 0.0254)),
    MASS: (("kg", 1.0), ("lb", 0.45359)),
    ANGLE: (("deg", 1.0), ("°", 1.0)),
}
"""The units that values are written in, each with what it is in SI."""
OWN_LETTERS = "ABCDEHJKNPQSTXYZabhklpqrsuxyz"
LABELS = ("", "so far ", "check: ", "together ", "i.e. ", "so ", "that is ", "now ", "gives ")


def figures(value: float, count: int = 4) -> str:
    """Return a number to some significant figures, without an exponent."""
    if not value:
        return "0"
    digits = max(0, count - 1 - math.floor(math.log10(abs(value))))
    return f"{value:.{digits}f}"


class RightLines:
    """Makes lines about one question, by chance."""

    def __init__(
        self, question: Question, chance: random.Random, own: Mapping[str, float] | None = None
    ) -> None:
        """Begin with a question.

        Args:
            question: what the lines are about.
            chance: what decides.
            own: values of steps that are wrong, from which all others follow.
        """
        self.question = question
        self.chance = chance
        self.posture = question.problem.posture
        quantities = PageQuantities(question)
        steps = question.graph.values(question.numbers, {}, own=own or {})
        self.right = {
            key: value
            for key, value in quantities.values(steps).items()
            if math.isfinite(value) and abs(value) > 1e-4
        }
        self.all = [one for key, one in quantities.all.items() if key in self.right]
        self.signs = [key for key, one in quantities.all.items() if one.step is not None]
        self._makers: tuple[Callable[[], str], ...] = (
            self._sum_of_some, self._difference, self._share, self._ratio, self._times_as_large,
            self._component, self._given_in_another_unit, self._pounds_on_the_way,
            self._moment_balance, self._balance_with_a_letter, self._mass_times_distance,
            self._without_one, self._half, self._part_called_a_whole, self._product_on_the_way,
            self._angle_otherwise, self._checked, self._own_symbol, self._size_alone,
            self._own_sense, self._value_in_words, self._in_words, self._balance_of_forces,
            self._side_of_balance, self._defined_letters, self._among_words, self._sum_of_parts,
            self._symbol_of_another, self._turned_round, self._result_of_three,
        )  # fmt: skip

    def line(self) -> tuple[str, str]:
        """Return how a line was made, and the line."""
        while True:
            maker = self.chance.choice(self._makers)
            if text := maker():
                return maker.__name__.strip("_"), text

    def ordinary(self) -> Iterator[str]:
        """Yield some plain lines of the derivation, in its order."""
        for step in self.question.derivation.asked:
            if step.key in self.right and step.kind.is_number and self.chance.random() < 0.5:
                unit = step.unit.replace("·", " ")
                yield f"{sign_of(step.key)} = {figures(self.right[step.key])} {unit}"

    # ---- what lines are made of

    def _some(self, *dimensions: object, count: int = 1) -> list[Quantity]:
        there = [q for q in self.all if q.dimension in dimensions and not q.is_elsewhere]
        return self.chance.sample(there, min(count, len(there)))

    def _written(self, quantity: Quantity, unit: tuple[str, float] | None = None) -> str:
        sign, size = unit or self.chance.choice(UNITS[quantity.dimension])
        return f"{figures(abs(self.right[quantity.key]) / size)} {sign}".strip()

    def _name(self, quantity: Quantity) -> str:
        """Return the name of a force of a quantity."""
        names = [
            self.question.problem.names[symbol] for symbol in quantity.about if symbol != "body"
        ]
        return self.chance.choice(names) if names else "joint"

    def _words(self, quantity: Quantity) -> str:
        """Return words for a quantity, by the name of a force of it; often they tell little."""
        name = self._name(quantity)
        return self.chance.choice(
            [name, name, f"{quantity.sort} {name}", f"{quantity.sort} of {name}"]
        )

    def _label(self) -> str:
        return self.chance.choice(LABELS)

    def _forces(self) -> list[tuple[str, float, float]]:
        """Return the forces with moments about the axis: name, size, and moment in N·m."""
        return [
            (
                f.symbol,
                abs(self.right[f.symbol]),
                self.right[beside("M", f.symbol)] * self._gravity(f),
            )
            for f in self.posture.forces
            if f.symbol in self.right and beside("M", f.symbol) in self.right
        ]

    def _gravity(self, force: Force) -> float:
        """Return gravity where the moment of a force is a mass at a distance, else 1."""
        of_moment = next(one for one in self.all if one.key == beside("M", force.symbol))
        return 9.81 if of_moment.dimension == MASS_LENGTH else 1.0

    # ---- the lines

    def _sum_of_some(self) -> str:
        some = self._some(self.chance.choice([FORCE, MOMENT, MASS, LENGTH]), count=2)
        if len(some) < 2:
            return ""
        unit = self.chance.choice(UNITS[some[0].dimension])
        one, other = (float(figures(abs(self.right[q.key]) / unit[1])) for q in some)
        label = self.chance.choice([self._label(), "both: ", "so far ", "first two: "])
        return f"{label}{figures(one)} + {figures(other)} = {figures(one + other)} {unit[0]}"

    def _difference(self) -> str:
        some = self._some(self.chance.choice([FORCE, MOMENT, MASS, LENGTH, ANGLE]), count=2)
        if len(some) < 2:
            return ""
        unit = self.chance.choice(UNITS[some[0].dimension])
        one, other = sorted(abs(self.right[q.key]) / unit[1] for q in some)
        gap = float(figures(other)) - float(figures(one))
        label = self.chance.choice([self._label(), "difference ", f"{self._name(some[0])} "])
        if not gap:
            return ""
        return f"{label}{figures(other)} - {figures(one)} = {figures(gap)} {unit[0]}"

    def _share(self) -> str:
        some = self._some(self.chance.choice([FORCE, MOMENT]), count=2)
        if len(some) < 2:
            return ""
        one, other = some
        percent = 100 * abs(self.right[one.key] / self.right[other.key])
        number = self.chance.choice([figures(percent, 2), figures(percent, 3)])
        return self.chance.choice([
            f"{self._words(one)} is {number}% of {self._words(other)}",
            f"{self._words(one)} {number} % of {self._words(other)}",
            f"{self._words(one)}: {number}%, the rest {figures(abs(100 - percent), 3)}%",
            f"that is {number} per cent",
            f"{self._words(one)} makes {number} % of it",
            f"{self._written(one, ('', 1.0))}/{self._written(other, ('', 1.0))} = {number} %",
        ])  # fmt: skip

    def _ratio(self) -> str:
        some = self._some(self.chance.choice([FORCE, MOMENT, LENGTH, MASS]), count=2)
        if len(some) < 2:
            return ""
        one, other = some
        quotient = figures(abs(self.right[one.key] / self.right[other.key]), 3)
        both = f"{self._words(one)} : {self._words(other)}"
        numbers = [self._written(one, ("", 1.0)), self._written(other, ("", 1.0))]
        return self.chance.choice([
            f"{both} = {quotient} : 1",
            f"{both} = {numbers[0]} : {numbers[1]} = {quotient} : 1",
            f"ratio {numbers[0]} / {numbers[1]} = {quotient}",
            f"{numbers[0]} / {numbers[1]} = {quotient}",
            f"ratio of the arms {numbers[0]}/{numbers[1]} = {quotient}",
            f"ratio = {quotient}",
            f"{both.replace(' : ', ' over ')} = {numbers[0]}/{numbers[1]} = {quotient}",
        ])  # fmt: skip

    def _times_as_large(self) -> str:
        some = self._some(FORCE, count=2)
        if len(some) < 2:
            return ""
        one, other = some
        quotient = figures(abs(self.right[one.key] / self.right[other.key]), 2)
        return self.chance.choice([
            f"{self._words(one)} is {quotient} times {self._words(other)}",
            f"so {self._words(one)} pulls {quotient} x as hard as {self._words(other)}",
            f"{self._words(one)} = {quotient} x {self._words(other)}",
            f"that is about {quotient} times as much",
        ])  # fmt: skip

    def _component(self) -> str:
        force = self.chance.choice([q for q in self.all if q.dimension == FORCE])
        angles = self._some(ANGLE)
        if not angles:
            return ""
        size = float(figures(abs(self.right[force.key])))
        angle = float(figures(abs(self.right[angles[0].key]), 3))
        function = self.chance.choice(["sin", "cos"])
        value = size * getattr(math, function)(math.radians(angle))
        label = self.chance.choice([
            "", "part along the bone ", "along it ", "across ", f"part of {self._words(force)} ",
            "the other part ", "along the segment: ", f"{self._words(force)} along the bone ",
        ])  # fmt: skip
        if abs(value) < 1e-9:
            return ""
        return f"{label}{figures(size)} {function} {angle:g} = {figures(value)} N"

    def _given_in_another_unit(self) -> str:
        given = self.chance.choice(self.question.givens)
        if given.unit not in ("cm", "mm", "m", "in", "ft", "kg", "lb", "N", "lbf"):
            return ""
        dimension = known_unit(given.unit).dimension
        unit, size = self.chance.choice([one for one in UNITS[dimension] if one[0]])
        number, value = self.question.numbers[given.key], self.question.in_si(given)
        sign = sign_of(given.sign) if given.sign else self.chance.choice(["", "x = ", "it is "])
        joined = f"{sign} = " if given.sign and self.chance.random() < 0.5 else ""
        return f"{joined}{number:g} {given.unit} = {figures(value / size)} {unit}"

    def _pounds_on_the_way(self) -> str:
        masses = self._some(MASS)
        if not masses:
            return ""
        mass = abs(self.right[masses[0].key])
        label = self.chance.choice([self._words(masses[0]) + " ", "", ""])
        return (
            f"{label}{figures(mass / 0.45359)} lb = {figures(mass)} kg = {figures(mass * 9.81)} N"
        )

    def _moment_balance(self) -> str:
        """Return the balance in letters of the student's own."""
        forces = self._forces()
        if len(forces) < 2:
            return ""
        letters = self.chance.sample(OWN_LETTERS, 2 * len(forces))
        names = [
            (f"{letters[2 * n]}", f"{letters[2 * n + 1]}", moment)
            for n, (_, _, moment) in enumerate(forces)
        ]
        if self.chance.random() < 0.4:
            names = [(f"F{n}", f"d{n}", moment) for n, (*_, moment) in enumerate(names, 1)]
        sides = [
            " + ".join(f"{f} * {d}" for f, d, m in names if (m > 0) is way) for way in (True, False)
        ]
        return " = ".join(sides) if all(sides) else ""

    def _balance_with_a_letter(self) -> str:
        """Return the balance with numbers, and a letter for one of the forces; masses as well."""
        forces = self._forces()
        sought = self.chance.choice(forces) if len(forces) > 1 else None
        if sought is None:
            return ""
        scale, by = self.chance.choice(
            [(1.0, 1.0), (1.0, 100.0), (1 / 9.81, 1.0), (1 / 9.81, 100.0)]
        )
        letter = self.chance.choice([*OWN_LETTERS, "F", "m", "M", "W", "G", "x", "d", "y"])
        sides: dict[bool, list[str]] = {True: [], False: []}
        for force in forces:
            _, size, moment = force
            arm = figures(abs(moment) / size * by)
            if force is not sought:
                sides[moment > 0].append(f"{figures(size * scale)} * {arm}")
        arm = figures(abs(sought[2]) / sought[1] * by)
        sides[sought[2] > 0].append(self.chance.choice([f"{letter} * {arm}", f"{arm}{letter}"]))
        if not (sides[True] and sides[False]):
            return ""
        total = sought[1] * scale
        return self.chance.choice([
            f"{' + '.join(sides[True])} = {' + '.join(sides[False])}",
            f"{' + '.join(sides[True])} - {' - '.join(sides[False])} = 0",
            f"{arm}{letter} = {figures(total * float(arm))}",
        ])  # fmt: skip

    def _mass_times_distance(self) -> str:
        forces = self._forces()
        if not forces:
            return ""
        symbol, size, moment = self.chance.choice(forces)
        mass, by = size / 9.81, self.chance.choice([1.0, 100.0])
        arm = abs(moment) / size * by
        product = float(figures(mass)) * float(figures(arm))
        name = self.question.problem.names[symbol]
        label = self.chance.choice(["", f"{name}: ", f"{name} ", f"turning effect {name} "])
        unit = self.chance.choice(["", "", " kg m" if by == 1 else " kg cm"])
        return f"{label}{figures(mass)} x {figures(arm)} = {figures(product)}{unit}"

    def _without_one(self) -> str:
        """Return what is to be found without one of the loads."""
        effort, forces = self.posture.balancing, self._forces()
        loads = [one for one in forces if effort is None or one[0] != effort.symbol]
        if effort is None or len(loads) < 2 or effort.symbol not in self.right:
            return ""
        gone = self.chance.choice(loads)
        total = sum(moment for *_, moment in loads)
        less = abs(self.right[effort.symbol] * (total - gone[2]) / total)
        name, muscle = (self.question.problem.names[s] for s in (gone[0], effort.symbol))
        sign = sign_of(effort.symbol)
        return self.chance.choice([
            f"without {name} {muscle} would be {figures(less)} N",
            f"Without {name} it would only be {figures(less, 3)} N",
            f"if there was no {name}, {sign} = {figures(less)} N",
            f"{name} alone needs {sign} = {figures(abs(self.right[effort.symbol] - less))} N",
            f"{name} adds {figures(abs(self.right[effort.symbol] - less), 3)} N to {muscle}",
        ])  # fmt: skip

    def _half(self) -> str:
        (quantity,) = self._some(FORCE) or [None]
        if quantity is None:
            return ""
        value, words = abs(self.right[quantity.key]), self._words(quantity)
        return self.chance.choice([
            f"{words}: each side takes {figures(value)}/2 = {figures(value / 2)} N",
            f"per hand {figures(value / 2)} N",
            f"{words} half of it = {figures(value / 2)} N",
            f"{words} for both legs 2 x {figures(value)} = {figures(2 * value)} N",
            f"twice that = {figures(2 * value)} N",
        ])  # fmt: skip

    def _part_called_a_whole(self) -> str:
        """Return a part of a sum, called by words that also fit the whole of it."""
        some = [q for q in self.all if q.dimension == FORCE and not q.is_sum]
        one, other = self.chance.sample(some, 2) if len(some) > 1 else (None, None)
        if one is None or other is None:
            return ""
        a, b = (float(figures(abs(self.right[q.key]))) for q in (one, other))
        if a == b:
            return ""
        label = self.chance.choice(
            ["down force in the joint", "up: ", "forces up", "vertical", "joint"]
        )
        return f"{label} {figures(max(a, b))} - {figures(min(a, b))} = {figures(abs(a - b))} N"

    def _product_on_the_way(self) -> str:
        numbers = [abs(self.question.numbers[g.key]) for g in self.question.givens]
        numbers += [9.81, 4.448, 2.2, 0.5]
        one, other = self.chance.choice(numbers), self.chance.choice(numbers)
        if self.chance.random() < 0.7:
            return f"{self._label()}{one:g} * {other:g} = {figures(one * other)}"
        return f"{self._label()}{one:g} / {other:g} = {figures(one / other)}"

    def _angle_otherwise(self) -> str:
        angles = self._some(ANGLE)
        if not angles:
            return ""
        degrees = abs(float(figures(self.right[angles[0].key], 3)))
        words = self._words(angles[0])
        return self.chance.choice([
            f"{degrees:g} deg = {figures(math.radians(degrees))} rad",
            f"angle of {words} = {figures(math.radians(degrees))} rad",
            f"sin {degrees:g} = {figures(math.sin(math.radians(degrees)))}",
            f"tan {degrees:g} = {figures(math.tan(math.radians(degrees)))}",
            f"slope of {words} = {figures(math.tan(math.radians(degrees)), 3)}",
            f"90 - {degrees:g} = {90 - degrees:g} deg",
            f"180 - {degrees:g} = {180 - degrees:g}",
            f"{words} at {90 - degrees:g} deg to the other way",
            f"180 - 90 - {degrees:g} = {90 - degrees:g} degrees in the triangle",
        ])  # fmt: skip

    def _checked(self) -> str:
        forces = self._forces()
        if not forces:
            return ""
        _, size, moment = self.chance.choice(forces)
        arm = abs(moment) / size
        product = float(figures(size)) * float(figures(arm))
        return self.chance.choice([
            f"check: {figures(size)} x {figures(arm)} = {figures(product)} ok",
            f"{figures(product)} = {figures(product)} yes",
            f"check {figures(product)} / {figures(arm)} = {figures(size)}",
            f"check {figures(product)} - {figures(product)} = 0",
        ])  # fmt: skip

    def _own_symbol(self) -> str:
        """Return a value by a symbol that the problem does not have."""
        quantity = self.chance.choice([q for q in self.all if q.dimension in UNITS])
        letters = {
            FORCE: "FWPTQRBN",
            MOMENT: "MTm",
            LENGTH: "dxrlasDL",
            MASS: "mM",
            ANGLE: "αθβabφ",
        }
        letter = self.chance.choice([*letters[quantity.dimension], *OWN_LETTERS])
        index = self.chance.choice(["", "1", "2", "_1", "_2", "a", "_a", "o", "_b", "_c", "'"])
        symbol = letter + index
        if symbol in self.signs or symbol.replace("_", "") in {
            s.replace("_", "") for s in self.signs
        }:
            return ""
        units = [one for one in UNITS[quantity.dimension] if one[0]]
        return f"{symbol} = {self._written(quantity, self.chance.choice(units))}"

    def _size_alone(self) -> str:
        """Return the size of what has a sign, or a sign that the sense of a page may give it."""
        signed = [q for q in self.all if q.signed and q.dimension in (FORCE, MOMENT)]
        if not signed:
            return ""
        quantity = self.chance.choice(signed)
        return f"{self._words(quantity)} {self._written(quantity)}"

    def _own_sense(self) -> str:
        """Return a force with the sign of an axis the other way round, which the line says."""
        forces = [q for q in self.all if q.step is not None and q.signed and q.dimension == FORCE]
        if not forces:
            return ""
        quantity = self.chance.choice(forces)
        value = -self.right[quantity.key]
        way = "down" if quantity.axis == "y" else "left"
        return f"{sign_of(quantity.key)} = {figures(value)} N ({way} is +)"

    def _value_in_words(self) -> str:
        (quantity,) = self._some(FORCE, LENGTH, MASS) or [None]
        if quantity is None:
            return ""
        units = [one for one in UNITS[quantity.dimension] if one[0]]
        value = self._written(quantity, self.chance.choice(units))
        return self.chance.choice([
            f"{value} is what {self._words(quantity)} comes to",
            f"so about {value}",
            f"I get {value} here",
            f"more than {value}",
            f"{self._words(quantity)} ({value}) is the largest",
            f"it has to carry {value}",
        ])  # fmt: skip

    def _in_words(self) -> str:
        names = list(self.question.problem.names.values())
        name, other = self.chance.choice(names), self.chance.choice(names)
        return self.chance.choice([
            f"first I work out {name}, then the effort",
            f"2 forces: {name} and {other}",
            f"the second force of this kind is {name}",
            "step 3: effort",
            f"{name} pushes on the joint, not the other way",
            f"I take the 1st equation for {name}",
            f"{name} is closer to the joint than {other}" if name != other else "ok",
            "there are three kinds of lever",
            "g = 32.2 ft/s^2",
            "g = 981 cm/s^2",
        ])  # fmt: skip

    def _balance_of_forces(self) -> str:
        """Return the balance of the forces across or upward, the reaction by a letter."""
        for axis in self.chance.sample("xy", 2):
            parts = [self.right.get(f"{f.symbol}{axis}", 0.0) for f in self.posture.forces]
            parts = [part for part in parts if abs(part) > 0.05]
            rest = -sum(parts)
            if len(parts) > 1 and abs(rest) > 1:
                letter = self.chance.choice([*OWN_LETTERS, "R", "J", "V", "H", "N"])
                way = "+" if rest > 0 else "-"
                terms = " ".join(f"{'+' if p > 0 else '-'} {figures(abs(p))}" for p in parts)
                first = terms.removeprefix("+ ")
                return self.chance.choice([
                    f"{letter} {terms} = 0" if rest > 0 else f"{first} - {letter} = 0",
                    f"{first} = {figures(-rest)} N",
                    f"{way}{letter} {terms} = 0",
                ])  # fmt: skip
        return ""

    def _side_of_balance(self) -> str:
        """Return the moments of one side alone, as a page goes through them."""
        forces = self._forces()
        way = self.chance.choice([True, False])
        there = [(size, abs(m) / size) for _, size, m in forces if (m > 0) is way]
        if not there:
            return ""
        by = self.chance.choice([1.0, 100.0])
        total = sum(float(figures(s)) * float(figures(a * by)) for s, a in there)
        terms = " + ".join(f"{figures(s)} * {figures(a * by)}" for s, a in there)
        label = self.chance.choice(
            ["", "left side ", "one side: ", "clockwise moments ", "moments "]
        )
        return f"{label}{terms} = {figures(total)}"

    def _defined_letters(self) -> str:
        """Return a value by a letter, and what another comes to with it."""
        one, *_ = self._some(FORCE) or [None]
        arms = self._some(LENGTH)
        if one is None or not arms:
            return ""
        letters = self.chance.sample(OWN_LETTERS, 2)
        force, arm = float(self._written(one, ("", 1.0))), float(self._written(arms[0], ("", 1.0)))
        both = f"{letters[0]} = {figures(force)} N, {letters[1]} = {figures(arm)} m"
        return f"{both}, {letters[0]}{letters[1]} = {figures(force * arm)} N m"

    def _among_words(self) -> str:
        some = self._some(FORCE, count=3)
        if len(some) < 3:
            return ""
        a, b, c = (f"{self._written(q, ('N', 1.0))}" for q in some)
        words = [self._words(q) for q in some]
        return self.chance.choice([
            f"{a} up, {b} down and {c} to the side",
            f"{words[0]} {a}, {words[1]} {b}, {words[2]} {c}",
            f"{words[0]} is {a} while {words[1]} has {b}",
            f"from {words[0]} {a} to {words[1]} {b}",
            f"the {words[0]} ({a}) and the {words[1]} ({b}) act on the same side",
            f"{words[0]} gives {b} to the {words[1]}",
        ])  # fmt: skip

    def _sum_of_parts(self) -> str:
        """Return a sum of products of forces and arms, of some forces alone."""
        forces = self._forces()
        some = self.chance.sample(forces, min(len(forces), self.chance.choice([1, 2, 3])))
        if not some:
            return ""
        terms, total = [], 0.0
        for _, size, moment in some:
            arm = float(figures(abs(moment) / size))
            size = float(figures(size))
            sign = self.chance.choice([1, 1, -1])
            total += sign * size * arm
            terms.append(f"{'+' if sign > 0 else '-'} {figures(size)} x {figures(arm)}")
        if not total:
            return ""
        name = self.question.problem.names[some[0][0]]
        label = self.chance.choice(
            ["", "moment ", "turning ", f"{name} and others: ", "M = ", "MM = "]
        )
        return f"{label}{' '.join(terms).removeprefix('+ ')} = {figures(total)}"

    def _symbol_of_another(self) -> str:
        """Return a value by a symbol that the problem uses for a quantity of another force.

        The two components of one force are not taken for each other: that is a slip.
        """
        signs = [key for key in self.signs if key in self.right]
        one = self.chance.choice(signs)
        quantity = next(q for q in self.all if q.key == one)
        others = [q for q in self.all if q.dimension == quantity.dimension and q.key != one]
        if quantity.is_component:
            others = [q for q in others if q.about != quantity.about]
        if not others or quantity.dimension not in UNITS:
            return ""
        other = self.chance.choice(others)
        units = [one for one in UNITS[quantity.dimension] if one[0]]
        return f"{sign_of(one)} = {self._written(other, self.chance.choice(units))}"

    def _turned_round(self) -> str:
        """Return a quantity worked out backwards from what it leads to."""
        forces = self._forces()
        if not forces:
            return ""
        symbol, size, moment = self.chance.choice(forces)
        arm, name = abs(moment) / size, self.question.problem.names[symbol]
        m = float(figures(abs(moment)))
        return self.chance.choice([
            f"{name}: {figures(m)} / {figures(arm)} = {figures(m / float(figures(arm)))} N",
            f"{figures(m)} / {figures(size)} = {figures(m / float(figures(size)))} m",
            f"{name} {figures(size)} / 9.81 = {figures(float(figures(size)) / 9.81)} kg",
            f"moment {name} = {figures(m)} so F = {figures(m / float(figures(arm)))}",
        ])  # fmt: skip

    def _result_of_three(self) -> str:
        some = self._some(self.chance.choice([FORCE, MASS, MOMENT]), count=3)
        if len(some) < 3:
            return ""
        a, b, c = (float(figures(abs(self.right[q.key]))) for q in some)
        if not a + b - c:
            return ""
        unit = UNITS[some[0].dimension][0][0]
        label = self.chance.choice(["", "R = ", "these three ", "F = ", "X = "])
        return f"{label}{figures(a)} + {figures(b)} - {figures(c)} = {figures(a + b - c)} {unit}"
