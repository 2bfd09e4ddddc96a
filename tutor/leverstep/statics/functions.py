"""Expressions of sympy as plain functions of numbers.

sympy's `lambdify` sorts, copies and explains every expression that it is given, which for a whole
derivation takes most of the time: it is given text, which it takes as it is. The names in there are
made here, so that nothing that an author wrote becomes code.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from sympy import lambdify
from sympy.printing.pycode import PythonCodePrinter

from leverstep.statics.step import Expression, symbol


class UnsortedPrinter(PythonCodePrinter):  # type: ignore[misc]
    """Writes an expression as Python, in the order that it is kept in and with every bracket."""

    def __init__(self) -> None:
        super().__init__({"fully_qualified_modules": False})
        self._names: dict[str, str] = {}

    def written(self, expression: Expression) -> str:
        """Return an expression as Python."""
        text: str = self._print(expression)
        return text

    def _print_Symbol(self, expression: Expression) -> str:
        return self._names.setdefault(expression.name, f"x{len(self._names)}")

    def _print_Add(self, expression: Expression) -> str:
        return f"({' + '.join(map(self._print, expression.args))})"

    def _print_Mul(self, expression: Expression) -> str:
        over, under = [], []
        for one in expression.args:
            if _is_divisor(one):
                under.append(self._print(1 / one))
            else:
                over.append(self._print(one))
        return f"({'/'.join(['*'.join(over) or '1', *under])})"

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
    printer = UnsortedPrinter()
    return _made(printer, names, [], printer.written(expression))


def functions_of(
    names: Sequence[str], expressions: Sequence[tuple[str, Expression]]
) -> Callable[..., list[float]]:
    """Return some expressions as one function, which returns their values.

    Each has a name, by which those behind it may use its value.
    """
    printer = UnsortedPrinter()
    found = [(printer.written(symbol(name)), printer.written(one)) for name, one in expressions]
    return _made(printer, names, found, f"[{', '.join(name for name, _ in found)}]")


def _made(
    printer: UnsortedPrinter,
    names: Sequence[str],
    lines: Sequence[tuple[str, str]],
    result: str,
) -> Callable[..., Any]:
    """Return a function that works out some lines, one after the other, and then a result."""
    taken = ", ".join(printer.written(symbol(name)) for name in names)
    made: Callable[..., Any] = lambdify(
        [taken], result, modules="math", printer=_as_written, use_imps=False,
        cse=lambda text: (lines, text), docstring_limit=0,
    )  # fmt: skip
    return made


def _as_written(text: str) -> str:
    return text
