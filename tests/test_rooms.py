"""The rooms of the house: each knows only those before it, and none opens before it is needed."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "tutor"
MODULES = sorted(PACKAGE.rglob("*.py"))
MAY_IMPORT = {
    "statics": set(),
    "course": {"statics"},
    "working": {"statics", "course"},
    "slips": {"statics", "course", "working"},
    "vetting": {"statics", "course", "working", "slips"},
    "board": {"statics", "course", "working", "slips"},
    "drill": {"statics", "course", "working", "slips"},
    "reports": {"statics", "course", "working", "slips", "drill"},
    "progress": {"statics", "course", "working", "slips", "drill", "reports"},
    "diagram": {"statics", "course"},
    "explore": {"statics", "course", "working", "diagram"},
    "screens": {
        "statics",
        "course",
        "working",
        "slips",
        "board",
        "drill",
        "progress",
        "diagram",
        "explore",
    },
    "sheets": {"statics", "course", "working", "drill", "reports", "diagram"},
    "line_reading": {"statics", "course", "working", "drill", "diagram", "terminal"},
    "line": {"statics", "course", "working", "drill", "line_reading", "terminal"},
    "drill_clock": {"course", "drill", "terminal"},
    "drill_line": {
        "statics",
        "course",
        "working",
        "drill",
        "line_reading",
        "line",
        "drill_clock",
        "terminal",
    },
    "drill_door": {"course", "working", "drill", "drill_clock", "drill_line", "terminal"},
    "board_line": {"course", "working", "diagram", "board", "terminal"},
    "explore_line": {"course", "working", "diagram", "explore", "terminal"},
    "drill_asking": {"course", "working", "drill", "terminal"},
    "terminal": {"course"},
    "crash": {"course"},
    "usage": {"course", "drill", "terminal"},
    "board_cli": {"course", "board", "drill", "board_line", "screens", "terminal", "usage"},
    "completion_cli": {"course", "terminal", "usage"},
    "drill_cli": {
        "course",
        "working",
        "drill",
        "reports",
        "screens",
        "drill_door",
        "drill_asking",
        "terminal",
        "usage",
    },
    "explore_cli": {
        "course",
        "drill",
        "working",
        "explore",
        "explore_line",
        "screens",
        "terminal",
        "usage",
    },
    "sheet_cli": {"course", "working", "drill", "sheets", "terminal", "usage"},
    "problem_cli": {"statics", "course", "working", "slips", "drill", "terminal", "usage"},
    "progress_cli": {"course", "slips", "progress", "terminal", "usage"},
    "vet_cli": {"course", "working", "slips", "vetting", "drill", "terminal", "usage"},
    "cli": {
        "usage",
        "crash",
        "terminal",
        "course",
        "working",
        "drill",
        "screens",
        "line",
        "problem_cli",
        "vet_cli",
        "drill_cli",
        "explore_cli",
        "progress_cli",
        "board_cli",
        "sheet_cli",
        "completion_cli",
    },
    "__main__": {"cli"},
    "__init__": set(),
}
PRINTING = (
    "cli", "problem_cli", "vet_cli", "drill_cli", "explore_cli", "progress_cli", "terminal",
)  # fmt: skip
HEAVY = ("sympy", "pint", "textual", "rich")
EVALUATORS = {"eval", "exec", "compile", "sympify", "parse_expr"}


def room_of(path: Path) -> str:
    """Return the room that a module stands in."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def named(path: Path) -> str:
    """Return a module as a test is to name it."""
    return path.relative_to(PACKAGE).as_posix()


def imported(path: Path) -> Iterator[str]:
    """Yield the full name of everything that a module imports, at its top or within a function."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "a relative import would hide the room it goes to"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def called(path: Path) -> set[str]:
    """Return the last name of everything that a module calls: `f` of `f()` and of `m.f()`."""
    calls = (
        n.func for n in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(n, ast.Call)
    )
    names = (getattr(f, "id", getattr(f, "attr", "")) for f in calls if not _method_of_re(f))
    return set(names)


def _method_of_re(function: ast.expr) -> bool:
    """Return whether this is `re.compile`, which makes a pattern and runs nothing."""
    return isinstance(function, ast.Attribute) and ast.unparse(function) == "re.compile"


@pytest.mark.parametrize("path", MODULES, ids=named)
def test_a_module_imports_only_the_rooms_before_its_own(path: Path) -> None:
    room = room_of(path)
    rooms = {name.split(".")[1] for name in imported(path) if name.startswith("tutor.")}
    assert rooms - {room} <= MAY_IMPORT[room]


@pytest.mark.parametrize("path", MODULES, ids=named)
def test_only_the_screens_know_the_toolkit_of_the_screen(path: Path) -> None:
    toolkit = {name.split(".")[0] for name in imported(path)} & {"textual", "rich"}
    assert room_of(path) == "screens" or not toolkit


@pytest.mark.parametrize("path", MODULES, ids=named)
def test_nothing_that_was_typed_can_be_run_as_code(path: Path) -> None:
    assert not called(path) & EVALUATORS


@pytest.mark.parametrize("path", MODULES, ids=named)
def test_only_the_command_line_prints(path: Path) -> None:
    assert room_of(path) in PRINTING or "print" not in called(path)


@pytest.mark.parametrize("evaluator", sorted(EVALUATORS))
def test_the_search_for_evaluators_finds_one(tmp_path: Path, evaluator: str) -> None:
    path = tmp_path / "module.py"
    path.write_text(f"x = {evaluator}('1')\ny = m.{evaluator}('1')\n", "utf-8")
    assert called(path) == {evaluator}


@pytest.mark.parametrize("command", ["", "--version", "problems", "problems --json"])
def test_what_needs_no_algebra_and_no_screen_loads_neither(command: str, tmp_path: Path) -> None:
    run = f"""
        import sys
        import tutor.cli
        try:
            {f"tutor.cli.main({command.split()})" if command else "pass"}
        except SystemExit as end:
            assert end.code == 0
        finally:
            loaded = [name for name in {HEAVY} if name in sys.modules]
            print("loaded:", loaded, file=sys.stderr)
    """
    lines = [line.removeprefix("        ") for line in run.splitlines()]
    done = subprocess.run(
        [sys.executable, "-c", "\n".join(lines)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={"PYTHONPATH": str(PACKAGE.parent), "LEVERSTEP_HOME": str(tmp_path)},
        check=True,
    )
    assert done.stderr.splitlines() == ["loaded: []"]
