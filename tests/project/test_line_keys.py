"""The keys of lines: made in one place, and read by nobody; a line's row says what it is."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.source import PACKAGE
from leverstep.statics.kinds import KINDS

WHERE_MADE = "statics/line_keys.py"
TYPED = {
    "course/symbols.py": "an author's symbols are read there, and shown",
    "claims/chain_symbols.py": "a symbol that a student typed in two words",
    "drill/lines.py": "the key of a start word",
    "drill/own_numbers.py": "the key of a student's own numbers",
    "faces/screens/keys.py": "the keys of a keyboard",
}
"""Where a symbol is a text that somebody wrote, or a key no line's, and what it is."""
OTHERS = {"event", "fault"}
"""What has a key of a keyboard, or of a file."""

MODULES = {
    path.relative_to(PACKAGE).as_posix(): path
    for path in sorted(PACKAGE.rglob("*.py"))
    if path.relative_to(PACKAGE).as_posix() not in {WHERE_MADE, *TYPED}
}
IN_TEXT = {
    "startswith", "endswith", "removeprefix", "removesuffix", "partition", "rpartition", "split",
    "rsplit", "replace", "find", "index", "count", "strip", "lstrip", "rstrip",
}  # fmt: skip
IN_PATTERN = {"match", "fullmatch", "search", "findall", "sub", "split"}
OWNERS = {"force", "couple", "given", "distance", "step", "load", "effort", "body", "balancing"}
"""Whatever in the statics has a symbol of the author's."""
NAMED = {key for kind in KINDS.values() if "_" in (key := kind.key)}


def named(node: ast.AST) -> str:
    """Return the last name of `a`, `b.a` or `a()`, "" for anything else."""
    return getattr(node, "id", getattr(node, "attr", ""))


def is_key(node: ast.AST) -> bool:
    """Return whether something is called as the key of a line is, or the symbol of a force."""
    if isinstance(node, ast.Call):
        return named(node.func).endswith("_key")
    name, of = named(node), named(node.value) if isinstance(node, ast.Attribute) else ""
    if name in {"symbol", "sign"}:
        return of in OWNERS
    return name.endswith("_key") or (name == "key" and of not in OTHERS)


def holds_text(node: ast.AST) -> bool:
    """Return whether a text stands in an expression, as it is or within a tuple."""
    return any(
        isinstance(one, ast.Constant) and isinstance(one.value, str) for one in ast.walk(node)
    )


def taken_apart(tree: ast.AST) -> Iterator[str]:
    """Yield each place where a key is asked for its spelling."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            method, of = node.func.attr, node.func.value
            by_text = method in IN_TEXT and is_key(of) and any(map(holds_text, node.args))
            by_pattern = method in IN_PATTERN and any(map(is_key, node.args))
            is_read = by_text or by_pattern
        elif isinstance(node, ast.Subscript):
            is_symbol = named(node.value) == "symbol" and ast.unparse(node.slice) == "1:"
            part = ast.Slice | ast.UnaryOp | ast.Constant
            is_read = is_symbol or (is_key(node.value) and isinstance(node.slice, part))
        elif isinstance(node, ast.Compare):
            sides = zip(node.ops, node.comparators, strict=True)
            is_within = any(isinstance(op, ast.In | ast.NotIn) and is_key(of) for op, of in sides)
            is_read = is_within and isinstance(node.left, ast.Constant)
        else:
            is_read = isinstance(node, ast.Constant) and node.value in NAMED
        if is_read:
            yield ast.unparse(node)


def put_together(tree: ast.AST) -> Iterator[str]:
    """Yield each text that is a symbol, or part of one, with letters before or behind it."""
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            letters = [one.value for one in node.values if isinstance(one, ast.Constant)]
            parts = [one.value for one in node.values if isinstance(one, ast.FormattedValue)]
            is_word = all(re.fullmatch("[A-Za-z]+_?|_", str(one)) for one in letters)
            is_symbol = any(named(one) in {"symbol", "suffix", "index"} for one in parts)
            if is_word and is_symbol and (letters or len(parts) > 1):
                yield ast.unparse(node)


def tree_of(path: Path) -> ast.Module:
    """Return the syntax tree of a module."""
    return ast.parse(path.read_text(encoding="utf-8"))


def test_nobody_reads_what_a_line_is_from_the_spelling_of_its_key() -> None:
    found = {name: list(taken_apart(tree_of(path))) for name, path in MODULES.items()}
    del found["statics/kinds.py"]  # the table itself, with the key of each row
    assert {name: places for name, places in found.items() if places} == {}


def test_a_key_is_put_together_in_one_place_alone() -> None:
    found = {name: list(put_together(tree_of(path))) for name, path in MODULES.items()}
    assert {name: places for name, places in found.items() if places} == {}
    assert list(put_together(tree_of(PACKAGE / WHERE_MADE)))


@pytest.mark.parametrize(
    "code",
    [
        "key[:-1]",
        "key[0] == 'M'",
        "step.key.startswith('M_')",
        "given.key.startswith(('fraction_', 'share_'))",
        "sum_key.removeprefix('M_')",
        "self.key.split('_')",
        "given.sign.startswith('m_')",
        "'W' + symbol[1:]",
        "posture.body.key[1:]",
        "'_' in key",
        "name.symbol == 'M_sum'",
        "re.fullmatch('[A-Z]_.', key)",
        "moment_key(force).partition('_')",
    ],
)
def test_the_search_finds_a_key_taken_apart(code: str) -> None:
    assert len(list(taken_apart(ast.parse(code)))) == 1


@pytest.mark.parametrize(
    "code", ["values[key]", "key in values", "key == other", "event.key == 'up'", "text[1:]"]
)
def test_the_search_leaves_alone_what_only_uses_a_key(code: str) -> None:
    assert not list(taken_apart(ast.parse(code)))


@pytest.mark.parametrize("code", ["f'M_{symbol}'", "f'M{force.suffix}'", "f'{force.symbol}x'"])
def test_the_search_finds_a_key_put_together(code: str) -> None:
    assert list(put_together(ast.parse(code)))
