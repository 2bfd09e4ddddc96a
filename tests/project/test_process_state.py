"""Nothing holds for a whole process: what a command names is handed to what needs it."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.source import PACKAGE
from leverstep.slips.catalogue import catalogue_in_use

MODULES = sorted(PACKAGE.rglob("*.py"))
CHANGING = {
    "add", "append", "appendleft", "clear", "discard", "extend", "insert", "pop", "popitem",
    "popleft", "remove", "reverse", "setdefault", "sort", "subtract", "update",
}  # fmt: skip
"""The methods by which a list, a dictionary or a set becomes another."""

AT_START = {
    "faces/crash.py": {"logging.getLogger('leverstep').handlers = [Reports()]"},
    "faces/terminal.py": {
        "sys.stdin = Path(os.devnull).open(encoding='utf-8')",
        "sys.stdout = _Closed(Path(os.devnull).open('wb'))",
        "sys.stderr = Path(os.devnull).open('w', encoding='utf-8')",
    },
    "faces/screens/keyboard.py": {"vars(linux_driver)['getincrementaldecoder'] = _forgiving"},
}
"""What a program sets at its start, of what belongs to the process: log, outputs, keyboard."""

OF_THE_CODE = {"_registry", "_solution"}
"""What rests on the code alone: the units, and two equations solved in symbols."""


def named(path: Path) -> str:
    """Return a module as a test is to name it."""
    return path.relative_to(PACKAGE).as_posix()


def bound(body: list[ast.stmt]) -> Iterator[str]:
    """Yield the names that some statements at the top of a module give to values."""
    for node in body:
        targets = node.targets if isinstance(node, ast.Assign) else []
        targets = [node.target] if isinstance(node, ast.AnnAssign) else targets
        for target in targets:
            yield from (one.id for one in ast.walk(target) if isinstance(one, ast.Name))


def root(node: ast.expr) -> str:
    """Return the name that a place is reached from: `a` of `a.b[0]`, `a.b().c` and `vars(a)["b"]`.

    It is "" where there is none.
    """
    while not isinstance(node, ast.Name):
        if isinstance(node, ast.Attribute | ast.Subscript | ast.Starred):
            node = node.value
        elif isinstance(node, ast.Call):
            node = node.args[0] if ast.unparse(node.func) == "vars" and node.args else node.func
        else:
            return ""
    return node.id


def places(target: ast.expr) -> Iterator[ast.expr]:
    """Yield the places within others that a statement gives a value to."""
    if isinstance(target, ast.Tuple | ast.List):
        for one in target.elts:
            yield from places(one)
    elif not isinstance(target, ast.Name):
        yield target


def changed(function: ast.AST) -> Iterator[tuple[str, str]]:
    """Yield each name through which a function changes something, and how that is written."""
    for node in ast.walk(function):
        found: list[ast.expr] = []
        if isinstance(node, ast.Global):
            yield from ((name, ast.unparse(node)) for name in node.names)
        elif isinstance(node, ast.Assign | ast.Delete):
            found = [place for target in node.targets for place in places(target)]
        elif isinstance(node, ast.AugAssign | ast.AnnAssign):
            found = [*places(node.target)]
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            found = [node.func.value] if node.func.attr in CHANGING else []
        elif isinstance(node, ast.Call) and ast.unparse(node.func) in ("next", "setattr"):
            found = [one for one in node.args[:1] if not isinstance(one, ast.Call)]
        yield from ((root(place), ast.unparse(node)) for place in found)


def own(function: ast.FunctionDef | ast.AsyncFunctionDef) -> set[str]:
    """Return the names that are a function's own: its arguments, and what it gives to values."""
    arguments = {one.arg for one in ast.walk(function) if isinstance(one, ast.arg)}
    stored = (n for n in ast.walk(function) if isinstance(n, ast.Name))
    return arguments | {one.id for one in stored if isinstance(one.ctx, ast.Store)}


def kept(source: str) -> list[str]:
    """Return how the functions of a module change what outlives their call.

    That is what the module, its classes or other modules hold, and the environment.
    """
    tree = ast.parse(source)
    imports = {
        (alias.asname or alias.name).split(".")[0]
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom)
        for alias in node.names
    }
    classes = {node.name for node in ast.walk(tree) if isinstance(node, ast.ClassDef)}
    outlive = {*bound(tree.body), *imports, *classes, "cls"}
    functions = [n for n in ast.walk(tree) if isinstance(n, ast.FunctionDef | ast.AsyncFunctionDef)]
    return [
        told
        for function in functions
        for name, told in changed(function)
        if name in outlive - (own(function) - {"cls"}) or told.startswith("global ")
    ]


def without_arguments(source: str) -> Iterator[str]:
    """Yield the functions whose one answer is remembered: none tells what it rests on."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef) and not ast.unparse(node.args):
            marks = [ast.unparse(mark) for mark in node.decorator_list]
            if any(mark.split("(")[0].split(".")[-1] in ("cache", "lru_cache") for mark in marks):
                yield node.name


def test_no_call_changes_what_outlives_it() -> None:
    found = {named(path): set(kept(path.read_text("utf-8"))) for path in MODULES}
    assert {name: changes for name, changes in found.items() if changes} == AT_START


@pytest.mark.parametrize(
    "way",
    [
        "_named[:] = folders",
        "_named.append(1)",
        "_named['a'] += 1",
        "del _named[0]",
        "global _named",
        "next(_named)",
        "os.environ['NO_COLOR'] = ''",
        "os.environ.pop('NO_COLOR', None)",
        "Shelf.libraries = folders",
        "vars(os)['name'] = ''",
        "setattr(os, 'name', '')",
    ],
)
def test_the_search_finds_every_way_to_change_it(way: str) -> None:
    top = "import os\n_named: list[int] = []\nclass Shelf: pass\n"
    assert kept(f"{top}def name(folders):\n    {way}\n") == [way]
    assert kept(f"{top}class Desk:\n    def name(self, folders):\n        {way}\n") == [way]


@pytest.mark.parametrize(
    "way",
    ["found = []; found.append(1)", "folders[:] = []", "self._named = []", "self._named.append(1)"],
)
def test_what_ends_with_its_call_or_its_object_is_let_be(way: str) -> None:
    source = f"_named = []\nclass Desk:\n    def name(self, folders):\n        {way}\n"
    assert kept(source) == []


def test_an_answer_is_remembered_by_what_it_rests_on() -> None:
    found = {named(path): {*without_arguments(path.read_text("utf-8"))} for path in MODULES}
    assert {name: more for name, told in found.items() if (more := told - OF_THE_CODE)} == {}


def test_the_search_finds_what_is_remembered_by_nothing() -> None:
    told = "@lru_cache(maxsize=1)\ndef a(): pass\n@functools.cache\ndef b(): pass\n"
    assert list(without_arguments(f"{told}@cache\ndef c(folders): pass\n")) == ["a", "b"]


def test_only_the_command_line_asks_which_libraries_there_are() -> None:
    asks = {named(path) for path in MODULES if "libraries_in_use(" in path.read_text("utf-8")}
    assert asks == {"course/libraries.py", "faces/commands/cli.py"}
    (libraries,) = inspect.signature(catalogue_in_use).parameters.values()
    assert libraries.default is inspect.Parameter.empty
