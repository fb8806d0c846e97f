"""Work that is done on a thread of its own, a little before it is asked for."""

from collections import deque
from collections.abc import Generator, Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

_AHEAD = 4
"""Pieces that may wait, lest memory fill with them."""

Kind = TypeVar("Kind")


def ahead(pieces: Iterator[Kind]) -> Generator[Kind, None, None]:
    """The same pieces, the next ones made meanwhile; closing it ends the work.

    Libav and numpy leave the interpreter to others, so one thread more is one processor more.
    """
    with ThreadPoolExecutor(1) as worker:
        waiting = deque(worker.submit(next, pieces, None) for _ in range(_AHEAD))
        try:
            while (piece := waiting.popleft().result()) is not None:
                waiting.append(worker.submit(next, pieces, None))
                yield piece
        finally:
            worker.shutdown(cancel_futures=True)
