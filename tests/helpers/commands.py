"""Every command there is, and a page of working for one of them."""

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


PAIL_PAGE = """\
W_l = 11.0/2.205*9.81 = 48.94 N
weight of the forearm: 1.65*9.81 = 16.19 N
d_f = 0.682*25.5 = 17.39 cm
F_m*4.6 = 16.19*17.39 + 48.94*35
F_m = 433.6 N
MA = (16.19 + 48.94)/433.6 = 0.150
ratio of arms 4.6/35 = 0.131
third class
R = 433.6 - 16.19 - 48.94 = 368.5 N down
"""
"""A page of working on elbow-full-pail, seed 7, with all that is asked for."""
