"""Expressions as plain functions: each bracket is where it has to be, as sympy works them out."""

from __future__ import annotations

import pytest
from leverstep.statics.functions import function_of, functions_of
from leverstep.statics.step import Expression, symbol
from sympy import Abs, Float, Integer, Piecewise, Rational, atan2, cos, pi, sin, tan

X, Y = symbol("x"), symbol("y")


@pytest.mark.parametrize(
    "expression",
    [
        X - Y,
        -(X + Y) / X,
        X / Y / (X + 1),
        1 / (X * Y),
        X**-2 / Y**3,
        (X**Y) ** 2,
        X ** (Y**2),
        (X * Y) ** X,
        Integer(-1) ** X,
        Integer(-2) ** (X - Y),
        Float(-2.5) ** X,
        X ** Float(-2.5),
        Rational(-3, 4) * X,
        Rational(-1, 2) ** X,
        Rational(-1, 2) * (X - Y) ** 2,
        X ** Rational(1, 2),
        Y ** Rational(-1, 2) / 3,
        (pi / 180) ** -Y * X,
        Abs(Y - X) * 2,
        2 * atan2(X, Abs(-Y)) - sin(X - Y) * cos(-X) / tan(Y),
        3 * Piecewise((1, X < Y), (X, X * Y > 5), (2, True)) ** 2,
        3 * Piecewise((1, X > 0), (X, Y < 5), (2, True)) - Y,
    ],
    ids=str,
)
def test_a_function_comes_to_what_sympy_works_out(expression: Expression) -> None:
    for x, y in ((3, 2), (2, 7)):
        right = float(expression.subs({X: x, Y: y}))
        assert function_of(["x", "y"], expression)(float(x), float(y)) == pytest.approx(right)
        assert function_of(["y", "x"], expression)(float(y), float(x)) == pytest.approx(right)


def test_an_expression_may_use_those_before_it_by_name() -> None:
    both = functions_of(["x"], [("half", X / 2), ("both", X - symbol("half") ** 2)])
    assert both(6.0) == pytest.approx([3.0, -3.0])
