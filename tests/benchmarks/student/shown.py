"""A line with a slip in it as arithmetic, the lines that were not written worked out in it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import replace

from student.lines import (
    INVERSE,
    Factor,
    Formula,
    formula_text,
    in_symbols,
    product_text,
    with_numbers,
)
from student.moves import Move, moves
from student.sheet import Sheet

Say = Callable[[Factor], str]


def lines_with(
    sheet: Sheet, keys: Iterable[str], before: Mapping[str, float], move: Move
) -> dict[str, Formula]:
    """Return some lines, each worked on from those before it, with a move made where it is.

    Args:
        sheet: whose lines they are.
        keys: which, in their order.
        before: the values that stand before them.
        move: what is done wrong.
    """
    values, lines = dict(before), {}
    for key in keys:
        line = sheet.formula(key, values)
        made = {one.name: one for one in moves(sheet, key, values)}
        lines[key] = made[move.name].edit(line) if move.name in made else line
        values[key] = lines[key].value
    return lines


def worked_out(key: str, lines: Mapping[str, Formula]) -> str | None:
    """Return a line as typed with numbers, and the other lines worked out in brackets.

    None where a student would not type it so.
    """

    def say(factor: Factor) -> str:
        if factor.key not in lines or factor.key == key:
            return with_numbers(factor)
        inside = worked_out(factor.key, {k: v for k, v in lines.items() if k != key})
        if inside is None:
            raise ValueError(factor.key)
        return f"{factor.function}({inside})"

    try:
        return _typed(lines[key], say)
    except ValueError:
        return None


def with_symbols(line: Formula, symbols: Collection[str]) -> str | None:
    """Return a line as typed with the symbols that it has, and numbers for all else."""
    return _typed(line, lambda f: in_symbols(f) if f.key in symbols else with_numbers(f))


def _typed(line: Formula, say: Say) -> str | None:
    if line.upside_down:
        return _upside_down(replace(line, upside_down=False), say)
    if line.radians or any(factor.radians for factor in line.all_factors) or line.tens:
        return None
    if line.taken_from:
        rest = _typed(replace(line, taken_from=0.0), say)
        return rest and f"{line.taken_from:g} - ({rest})"
    parts = [product_text(term.factors, say) for term in line.terms]
    if line.shape == "squares":
        return " + ".join(f"{part}^2" for part in parts)
    if line.shape == "added":
        return " + ".join(f"|{part}|" for part in parts)
    if line.shape == "taken":
        return f"|{' - '.join(f'|{part}|' for part in parts)}|"
    text = formula_text(line, say)
    is_negative = line.shape not in INVERSE and not line.shape and line.value < 0
    return f"({text})" if is_negative else text


def _upside_down(line: Formula, say: Say) -> str | None:
    """Return a ratio as typed the other way up."""
    if line.shape:
        return None
    if len(line.terms) > 1:
        return f"1/({formula_text(line, say)})"
    (term,) = line.terms
    turned = (replace(f, power=-f.power) for f in (*term.factors, *line.factors))
    ordered = tuple(sorted(turned, key=lambda factor: -factor.power))
    return formula_text(Formula((replace(term, factors=ordered),), sign=line.sign), say)
