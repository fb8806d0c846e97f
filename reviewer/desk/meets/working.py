"""Other processes that work for a page, and are ended at once when it waits for them no more."""

from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context
from typing import Any

from reviewer import actions

PROCESSES = 2
"""That work at once."""


class Spawned:
    """Starts processes as the standard context does, and knows its own."""

    def __init__(self) -> None:
        self._context, self._started, self._ended = get_context("spawn"), list[Any](), False

    def __getattr__(self, name: str) -> Any:
        return getattr(self._context, name)

    def Process(self, *arguments: Any, **named: Any) -> Any:
        """A process that is not started yet; an OSError once all were to end."""
        if self._ended:
            raise OSError("nobody waits for this work any more")
        made = self._context.Process(*arguments, **named)
        self._started.append(made)
        return made

    def end(self) -> None:
        """End those that run, whatever they do, and start no more."""
        self._ended = True
        for one in self._started:
            if one.is_alive():
                one.terminate()


@contextmanager
def working(spawned: Any) -> Iterator[Executor]:
    """The processes as an executor."""
    with ProcessPoolExecutor(PROCESSES, mp_context=spawned, initializer=actions.serve) as workers:
        yield workers
