"""The packages that the tutor needs, as those that are installed say themselves."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator
from importlib.metadata import distribution

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from helpers.source import ROOT

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
SYSTEMS = ("linux", "darwin", "win32")


def wanted(lines: Iterable[str], extras: Iterable[str] = ()) -> Iterator[Requirement]:
    """Yield the requirements among some lines that hold on any system, with some extras."""
    for line in lines:
        one = Requirement(line)
        places = [{"extra": e, "sys_platform": s} for e in ("", *extras) for s in SYSTEMS]
        if one.marker is None or any(one.marker.evaluate(place) for place in places):
            yield one


def requirements() -> list[Requirement]:
    """Return every requirement of the tutor, and of what it needs, and of that in turn."""
    found = list(wanted(PROJECT["dependencies"]))
    for one in found:  # which grows on the way
        more = wanted(distribution(one.name).requires or (), one.extras)
        found += [new for new in more if str(new) not in map(str, found)]
    return found


def needed() -> set[str]:
    """Return the names of all packages that the tutor needs, directly or not."""
    return {canonicalize_name(one.name) for one in requirements()}
