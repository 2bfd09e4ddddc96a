"""Each test of the screens has a user's data folder of its own, and colours."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the user's data folder, which is not there yet."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("NO_COLOR", raising=False)
    return tmp_path / "home"
