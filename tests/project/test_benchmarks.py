"""What the benchmarks print of the machine they ran on, and what README shows of that."""

from __future__ import annotations

import platform
import re
from pathlib import Path

import pytest
from helpers.packages import ROOT

BENCHMARKS = ROOT / "tests" / "benchmarks"
README = (ROOT / "README.md").read_text(encoding="utf-8")
MACHINE = r"(Linux|Darwin|Windows) [\d.]+, \d+ processors, Python [\d.]+"


def test_the_machine_is_told_by_system_and_version(monkeypatch: pytest.MonkeyPatch) -> None:
    """No name of a build, and none of the computer."""
    monkeypatch.syspath_prepend(str(BENCHMARKS))
    monkeypatch.setattr(platform, "system", lambda: "Linux")
    monkeypatch.setattr(platform, "release", lambda: "6.1.2-17-lab-x86_64")
    from machine import machine

    assert re.fullmatch(MACHINE, machine())
    assert machine().startswith("Linux 6.1.2, ")


def test_readme_shows_the_machine_as_it_is_told() -> None:
    shown = re.findall(r"^    (.* processors, .*)$", README, flags=re.M)
    assert len(shown) >= 3
    assert [line for line in shown if not re.fullmatch(MACHINE, line)] == []


@pytest.mark.parametrize("path", sorted(BENCHMARKS.glob("*.py")), ids=lambda path: path.name)
def test_no_benchmark_asks_the_platform_for_more(path: Path) -> None:
    asked = set(re.findall(r"platform\.(\w+)\(", path.read_text(encoding="utf-8")))
    assert asked <= {"system", "release", "python_version"}
