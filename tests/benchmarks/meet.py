"""Many routines after a meet: each part is a module of its own, named ``meet`` and the part."""

from collections.abc import Iterator
from importlib import import_module

from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure


def figures(setting: Setting, about: str) -> Iterator[Figure]:
    """The figures of one part."""
    yield from import_module(f"tests.benchmarks.meet{about}").figures(setting, about)
