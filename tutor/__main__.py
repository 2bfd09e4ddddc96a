"""`python -m tutor` is the same as the command `leverstep`."""

from tutor.cli import run

run()
