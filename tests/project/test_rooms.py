"""The rooms of the house: each knows only those before it, and none opens before it is needed."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path

import pytest
from helpers.source import PACKAGE, TESTS

MODULES = sorted(PACKAGE.rglob("*.py"))
LONGEST_MODULE = 500
"""Lines; what has more is parted where it is about two things."""

LONGEST_CLASS = 320
"""Lines, with its keys and docstrings; what is longer has two duties, and is parted by these."""

MAY_IMPORT = {
    "statics": set(),
    "course": {"statics"},
    "glossary": {"statics", "course"},
    "entry": {"statics", "course"},
    "comparing": {"statics", "course", "entry"},
    "claims": {"statics", "course", "entry", "comparing"},
    "working": {"statics", "course", "entry", "comparing", "claims"},
    "slips": {"statics", "course", "glossary", "entry", "comparing", "claims", "working"},
    "diagram": {"statics", "course"},
    "vetting": {"statics", "course", "working", "slips", "diagram"},
    "board": {"statics", "course", "working", "slips"},
    "free_body": {"statics", "course", "slips", "diagram"},
    "explore": {"statics", "course", "working", "diagram"},
    "questions": {"statics", "course", "working", "slips", "diagram", "explore"},
    "erroneous": {"statics", "course", "entry", "working", "slips", "board", "questions"},
    "bench": {"course", "working", "slips", "free_body", "questions", "erroneous"},
    "drill": {"statics", "course", "working", "slips", "bench"},
    "marking": {
        "statics", "course", "working", "slips", "free_body", "questions", "bench", "drill",
    },
    "watching": {
        "course", "working", "slips", "free_body", "bench", "drill", "marking",
    },
    "dialogue": {
        "statics", "course", "glossary", "entry", "working", "slips", "free_body", "questions",
        "erroneous", "bench", "drill", "marking",
    },
    "documents": {"course", "working", "diagram"},
    "reports": {
        "statics", "course", "working", "slips", "free_body", "questions", "drill", "marking",
        "documents",
    },
    "term": {"course", "working", "slips", "drill", "marking", "documents", "reports"},
    "progress": {
        "course", "working", "slips", "free_body", "bench", "drill", "marking", "documents",
    },
    "sheets": {
        "statics", "course", "working", "slips", "free_body", "erroneous", "bench", "drill",
        "marking", "dialogue", "diagram", "documents",
    },
    "faces.terminal": {"course"},
    "faces.crash": {"course", "faces.terminal"},
    "faces.material": {"course", "slips"},
    "faces.openings": {
        "course", "working", "slips", "bench", "drill", "progress", "faces.material",
    },
    "faces.lines": {
        "statics", "course", "glossary", "entry", "working", "slips", "board", "free_body",
        "questions", "bench",
        "drill", "watching", "dialogue", "diagram", "explore", "progress", "sheets",
        "faces.terminal",
        "faces.material", "faces.openings",
    },
    "faces.screens": {
        "statics", "course", "glossary", "entry", "working", "slips", "board", "free_body",
        "questions", "erroneous", "bench",
        "drill", "marking", "watching", "dialogue", "diagram", "explore", "progress", "sheets",
        "faces.material", "faces.openings",
    },
    "faces.commands": {
        "statics", "course", "claims", "working", "slips", "vetting", "board", "erroneous",
        "bench", "drill", "marking", "watching", "dialogue", "documents", "explore", "reports",
        "term", "progress", "sheets",
        "faces.terminal", "faces.crash", "faces.material", "faces.openings", "faces.lines",
        "faces.screens",
    },
    "faces": set(),
    "__main__": {"faces.commands"},
    "__init__": set(),
}  # fmt: skip
"""The rooms in their order, each with those that it knows: none that come after it."""

PRINTING = ("faces.commands", "faces.terminal")
HEAVY = ("sympy", "pint", "textual", "rich")
EVALUATORS = {"eval", "exec", "compile", "sympify", "parse_expr"}


def room_named(parts: Sequence[str]) -> str:
    """Return the room of a module, by the parts of its name within the package."""
    return ".".join(parts[:2]) if parts[0] == "faces" and parts[1:2] != ["__init__"] else parts[0]


def room_of(path: Path) -> str:
    """Return the room that a module stands in."""
    return room_named(list(path.relative_to(PACKAGE).with_suffix("").parts))


def named(path: Path) -> str:
    """Return a module as a test is to name it."""
    return path.relative_to(PACKAGE).as_posix()


@cache
def nodes(path: Path) -> list[ast.AST]:
    """Return all nodes of a module's syntax tree, which several tests look through."""
    return list(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))


def imported(path: Path) -> Iterator[str]:
    """Yield the full name of everything that a module imports, at its top or within a function."""
    for node in nodes(path):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "a relative import would hide the room it goes to"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def called(path: Path) -> set[str]:
    """Return the last name of everything that a module calls: `f` of `f()` and of `m.f()`."""
    calls = (node.func for node in nodes(path) if isinstance(node, ast.Call))
    names = (getattr(f, "id", getattr(f, "attr", "")) for f in calls if not _method_of_re(f))
    return set(names)


def _method_of_re(function: ast.expr) -> bool:
    """Return whether this is `re.compile`, which makes a pattern and runs nothing."""
    return isinstance(function, ast.Attribute) and ast.unparse(function) == "re.compile"


def test_a_module_imports_only_the_rooms_before_its_own() -> None:
    for path in MODULES:
        room = room_of(path)
        names = [name.split(".")[1:] for name in imported(path) if name.startswith("leverstep.")]
        rooms = {room_named(parts) for parts in names}
        assert rooms - {room} <= MAY_IMPORT[room], named(path)


def test_each_room_knows_only_those_before_it() -> None:
    before: set[str] = set()
    for room, known in MAY_IMPORT.items():
        assert known <= before, room
        before.add(room)
    assert {room_of(path) for path in MODULES} == before


def module_named(name: str, there: Collection[str]) -> str:
    """Return the module that an imported name is, or lies in; "" where it is none of these."""
    while name and name not in there:
        name = name.rpartition(".")[0]
    return name


def knows(modules: Mapping[str, Path]) -> dict[str, set[str]]:
    """Return for each module those it imports: within a function and for types alone too."""
    return {
        name: {module_named(one, modules) for one in imported(path)} - {"", name}
        for name, path in modules.items()
    }


def circles(known: Mapping[str, set[str]]) -> set[str]:
    """Return the modules that lie on a circle, or lead to one: they have no place in a row."""
    left = dict(known)
    while ready := [name for name, needs in left.items() if not needs & left.keys()]:
        for name in ready:
            del left[name]
    return set(left)


def test_no_modules_import_each_other_in_a_circle() -> None:
    names = {
        ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts): path for path in MODULES
    }
    known = knows({name.removesuffix(".__init__"): path for name, path in names.items()})
    assert sum(map(len, known.values())) > len(MODULES), "they do import each other"
    assert circles(known) == set()


def test_the_search_for_circles_finds_one_however_it_is_hidden(tmp_path: Path) -> None:
    texts = {
        "p.a": "import p.b\n",
        "p.b": "def f():\n    from p.c import g\n",
        "p.c": "if TYPE_CHECKING:\n    from p import a\n",
        "p.d": "from p.e import h\n",
        "p.e": "import sys\n",
    }
    modules = {name: tmp_path / f"{name}.py" for name in texts}
    for name, text in texts.items():
        modules[name].write_text(text, "utf-8")
    assert circles(knows(modules)) == {"p.a", "p.b", "p.c"}


def test_nothing_takes_the_app_for_one_of_its_kinds() -> None:
    """What a screen needs is handed to it; a cast of the app would lead back to all of them."""
    for path in MODULES:
        calls = [node for node in nodes(path) if isinstance(node, ast.Call)]
        casts = [ast.unparse(c) for c in calls if getattr(c.func, "id", "") == "cast"]
        assert not [cast for cast in casts if re.search(r"\bapp\b|App\b", cast)], named(path)


def test_no_two_modules_have_one_name() -> None:
    names = Counter(path.name for path in MODULES if path.name != "__init__.py")
    assert not {name for name, count in names.items() if count > 1}


def test_no_module_is_too_long_to_be_read_at_once() -> None:
    lengths = {named(path): len(path.read_text("utf-8").splitlines()) for path in MODULES}
    assert {name: length for name, length in lengths.items() if length > LONGEST_MODULE} == {}


def classes(path: Path) -> Iterator[ast.ClassDef]:
    """Yield the classes at the top of a module."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    yield from (node for node in tree.body if isinstance(node, ast.ClassDef))


def test_no_class_is_too_long_to_be_one_thing() -> None:
    there = [one for path in MODULES for one in classes(path)]
    lengths = {one.name: (one.end_lineno or 0) - one.lineno + 1 for one in there}
    longer = {name: length for name, length in lengths.items() if length > LONGEST_CLASS}
    assert not longer


def test_no_two_classes_have_one_name() -> None:
    names = Counter(one.name for path in MODULES for one in classes(path))
    assert not {name for name, count in names.items() if count > 1}


def test_the_tests_of_a_room_lie_in_a_folder_of_its_name() -> None:
    folders = {path.parent.relative_to(TESTS).as_posix() for path in TESTS.rglob("test_*.py")}
    rooms = {room.replace(".", "/") for room in MAY_IMPORT if not room.startswith("_")}
    assert folders <= rooms | {"project"}, "of the whole project, or of a room"


def test_no_test_imports_from_another() -> None:
    for path in sorted(TESTS.rglob("*.py")):
        others = [name for name in imported(path) if re.match(r"(.*\.)?test_\w+\.", name)]
        assert not others, path.name


def test_only_the_screens_know_the_toolkit_of_the_screen() -> None:
    for path in MODULES:
        toolkit = {name.split(".")[0] for name in imported(path)} & {"textual", "rich"}
        assert room_of(path) == "faces.screens" or not toolkit, named(path)


def test_nothing_that_was_typed_can_be_run_as_code() -> None:
    for path in MODULES:
        assert not called(path) & EVALUATORS, named(path)


def test_only_the_command_line_prints() -> None:
    for path in MODULES:
        assert room_of(path) in PRINTING or "print" not in called(path), named(path)


@pytest.mark.parametrize("evaluator", sorted(EVALUATORS))
def test_the_search_for_evaluators_finds_one(tmp_path: Path, evaluator: str) -> None:
    path = tmp_path / "module.py"
    path.write_text(f"x = {evaluator}('1')\ny = m.{evaluator}('1')\n", "utf-8")
    assert called(path) == {evaluator}


@pytest.mark.parametrize("command", ["", "--version", "problems", "problems --json"])
def test_what_needs_no_algebra_and_no_screen_loads_neither(command: str, tmp_path: Path) -> None:
    assert loaded_by(command, HEAVY, tmp_path) == []


def test_a_list_whose_cards_are_kept_loads_nothing_that_reads_a_problem(tmp_path: Path) -> None:
    reader = "leverstep.course.problem_file"
    assert loaded_by("problems", [reader], tmp_path) == [reader]
    assert loaded_by("problems", [reader], tmp_path) == []


def loaded_by(command: str, names: Collection[str], home: Path) -> list[str]:
    """Return which of these modules a command has loaded at its end."""
    run = f"""
        import sys
        import leverstep.faces.commands.cli
        try:
            {f"leverstep.faces.commands.cli.main({command.split()})" if command else "pass"}
        except SystemExit as end:
            assert end.code == 0
        finally:
            print(*(name for name in {names} if name in sys.modules), file=sys.stderr)
    """
    lines = [line.removeprefix("        ") for line in run.splitlines()]
    done = subprocess.run(
        [sys.executable, "-c", "\n".join(lines)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={"PYTHONPATH": str(PACKAGE.parent), "LEVERSTEP_HOME": str(home)},
        check=True,
    )
    return done.stderr.split()
