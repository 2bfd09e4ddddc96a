"""Expressions of sympy as plain functions of numbers.

sympy sorts the terms and factors of all that it prints, and explains each function in a docstring.
Nobody reads these, and for a whole derivation that would take most of the time.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from sympy import lambdify
from sympy.printing.pycode import PythonCodePrinter

from leverstep.statics.step import Expression, symbol


class UnsortedPrinter(PythonCodePrinter):  # type: ignore[misc]
    """Writes an expression as Python, in the order that it is kept in and with every bracket."""

    def _print_Add(self, expression: Expression) -> str:
        return f"({' + '.join(map(self._print, expression.args))})"

    def _print_Mul(self, expression: Expression) -> str:
        under = [one for one in expression.args if _is_divisor(one)]
        over = [self._print(one) for one in expression.args if one not in under]
        return f"({'/'.join(['*'.join(over) or '1', *(self._print(1 / one) for one in under)])})"

    def _print_Pow(self, expression: Expression) -> str:
        if _is_divisor(expression):
            return f"(1/{self._print(1 / expression)})"
        return f"({self._print(expression.base)}**{self._print(expression.exp)})"

    def _print_Rational(self, number: Expression) -> str:
        return f"({number.p}/{number.q})"

    def _print_Float(self, number: Expression) -> str:
        return f"({float(number)})"

    def _print_Integer(self, number: Expression) -> str:
        return f"({number.p})"


def _is_divisor(expression: Expression) -> bool:
    return bool(expression.is_Pow and expression.exp.is_Integer and expression.exp.is_negative)


def function_of(names: Sequence[str], expression: Expression) -> Callable[..., float]:
    """Return an expression as a function of the values of some names, in their order."""
    return _made(names, expression)


def functions_of(
    names: Sequence[str], expressions: Sequence[tuple[str, Expression]]
) -> Callable[..., list[float]]:
    """Return some expressions as one function, which returns their values.

    Each has a name, by which those behind it may use its value.
    """
    pairs = [(symbol(name), expression) for name, expression in expressions]
    found = [name for name, _ in pairs]
    # to sympy they are what is to be worked out once, in order
    return _made(names, found, cse=lambda _: (pairs, found))


def _made(names: Sequence[str], expression: Expression, **more: Any) -> Callable[..., Any]:
    printer = UnsortedPrinter({"fully_qualified_modules": False})
    symbols = [symbol(name) for name in names]
    made: Callable[..., Any] = lambdify(
        symbols, expression, modules="math", printer=printer, docstring_limit=0, **more
    )
    return made
