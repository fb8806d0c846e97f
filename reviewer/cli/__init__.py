"""The same actions from a command line."""

from reviewer.cli.program import run

__all__ = ["run"]
