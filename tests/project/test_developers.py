"""What DEVELOPERS.md names is there: files, folders, and what is defined in them."""

from __future__ import annotations

import ast
import itertools
import re
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from helpers.source import PACKAGE, ROOT, SOURCE, TESTS

TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
NAMED = sorted(set(re.findall(r"`([^`\n]+)`", re.sub(r"^    .*$", "", TEXT, flags=re.M))))
PATHS = [one for one in NAMED if re.match(r"\S*(/|\w\.(py|md|toml|txt|tcss)\b)", one)]
OF_USERS = {"progress.json"}
"""Files that a user has, and the checkout has not."""
NAMES = sorted(
    {one.partition("(")[0] for one in NAMED if re.fullmatch(r"[A-Za-z_][\w.]*(\(.*\))?", one)}
    - {*PATHS, *OF_USERS}
)
DOTTED = [one for one in NAMES if "." in one]
HERE = [
    path.relative_to(ROOT).as_posix() + "/" * path.is_dir()
    for folder in (SOURCE, TESTS, ROOT / "problems", ROOT / "hints", ROOT / ".ci")
    for path in (folder, *folder.rglob("*"))
] + [path.name for path in ROOT.iterdir() if path.is_file()]


def is_there(path: str) -> bool:
    """Return whether a path, or the end of one, is that of something in the checkout."""
    pattern = "[^/]+".join(map(re.escape, re.split(r"\*|<\w+>", path.split()[0])))
    return any(re.search(rf"(^|/){pattern}/?$", one) for one in HERE)


def defined_in(body: list[ast.stmt]) -> Iterator[str]:
    """Yield what is defined at the top of a module or a class, and what a class keeps in `self`."""
    for node in body:
        if isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            yield node.name
        targets = node.targets if isinstance(node, ast.Assign) else []
        targets = [node.target] if isinstance(node, ast.AnnAssign) else targets
        yield from (n.id for t in targets for n in ast.walk(t) if isinstance(n, ast.Name))
        yield from (
            n.attr
            for n in (ast.walk(node) if isinstance(node, ast.FunctionDef) else ())
            if isinstance(n, ast.Attribute) and ast.unparse(n.value) == "self"
        )


@cache
def all_defined() -> dict[str, set[str]]:
    """Return what each module and each class defines, a class with what it is made from."""
    found: dict[str, set[str]] = defaultdict(set)
    bases: dict[str, list[str]] = {}
    for path in PACKAGE.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        found[path.stem].update(defined_in(tree.body))
        found[path.parent.name].add(path.stem)
        found[path.parent.parent.name].add(path.parent.name)
        for node in tree.body:
            if isinstance(node, ast.ClassDef):
                found[node.name].update(defined_in(node.body))
                bases[node.name] = [ast.unparse(base) for base in node.bases]
    for name in bases:
        made_from = [name]
        for one in made_from:
            made_from += bases.get(one, [])
            found[name] |= found.get(one, set())
    return found


def is_defined(name: str) -> bool:
    """Return whether each part of a dotted name is defined in the part before it."""
    parts = name.split(".")
    pairs = itertools.pairwise(parts)
    return all(part in all_defined().get(owner, ()) for owner, part in pairs)


def words_of_sources() -> set[str]:
    """Return every word of the code, of the tests, and of what says what they need."""
    paths = [*PACKAGE.rglob("*.py"), *TESTS.rglob("*.py")]
    paths = [path for path in paths if path != Path(__file__)]
    paths += [ROOT / "pyproject.toml", SOURCE / "room.txt"]
    return set(re.findall(r"\w+", " ".join(path.read_text("utf-8") for path in paths)))


def test_every_path_is_there() -> None:
    assert [path for path in PATHS if not is_there(path)] == []


def test_every_name_is_defined_where_it_is_said_to_be() -> None:
    assert [name for name in DOTTED if not is_defined(name)] == []


def test_every_name_is_a_word_of_the_sources() -> None:
    parts = {part for name in NAMES for part in name.split(".")}
    assert len(parts) > 100
    assert not parts - words_of_sources()


def test_what_is_not_there_is_found() -> None:
    assert len(PATHS) > 100
    assert len(DOTTED) > 20
    assert is_there("hints/*.toml")
    assert not is_there("hints/*.text")
    assert not is_there("drill/gone.py")
    assert not is_there("rill/drill.py")
    assert is_defined("Drill.with_key")
    assert not is_defined("Drill.without_key")
    assert not is_defined("balance.gone")
