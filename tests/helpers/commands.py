"""Every command there is."""

from __future__ import annotations

import argparse
from collections.abc import Iterator


def parsers(parser: argparse.ArgumentParser) -> Iterator[argparse.ArgumentParser]:
    """Yield a parser and those of its commands."""
    yield parser
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for inner in action.choices.values():
                yield from parsers(inner)
