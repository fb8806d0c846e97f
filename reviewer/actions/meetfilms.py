"""Recordings of a meet read one by one, by other processes: ticks, fingerprint, small pictures.

A few are handed out at a time, and what is known of one is kept as soon as it is read: memory does not grow
with their number, and a stop loses those alone that are in hand.
"""

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass, replace
from pathlib import Path
from typing import ParamSpec, TypeVar

from reviewer import video
from reviewer.actions.audit import AuditError
from reviewer.actions.opening import cited
from reviewer.shelf import Register
from reviewer.terms.indexed import Indexed
from reviewer.terms.messages import message, reason
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.shelving import Stamp
from reviewer.video import SmallStore

Job = tuple[str, Stamp]
"""A recording's path below the folder, and what its file is now."""
_P = ParamSpec("_P")
_T = TypeVar("_T")
_KEPT_NOT = "small-pictures-not-kept"


@dataclass(frozen=True, slots=True)
class Work:
    """Who reads recordings, and how.

    Attributes:
        workers: other processes, each with one recording in hand.
        at_once: how many recordings are handed out.
        threads: by how many each is decoded; 0: as many as there are cores.
    """

    workers: Executor
    at_once: int = 4
    threads: int = 0


def read_recordings(
    folder: Path, jobs: Iterable[Job], register: Register, store: SmallStore | None, work: Work
) -> Iterator[str]:
    """Read recordings of a folder and keep what is found, in the order they are done: the path of each.

    ``store`` takes small pictures; without one none are made.
    """
    pending: dict[Future[Indexed], Job] = {}
    try:
        for job in jobs:
            future = work.workers.submit(read_recording, folder / job[0], job[1], store, work.threads)
            pending[future] = job
            if len(pending) >= work.at_once:
                yield from _kept(pending, register)
        while pending:
            yield from _kept(pending, register)
    finally:
        for future in pending:
            future.cancel()


def _kept(pending: dict[Future[Indexed], Job], register: Register) -> Iterator[str]:
    for future in wait(pending, return_when=FIRST_COMPLETED).done:
        in_hand = ", ".join(path for path, _ in pending.values())
        path, stamp = pending.pop(future)
        try:
            found = future.result()
        except BrokenExecutor:
            said = message("A process that read recordings was ended.")
            remedy = message("Run it again; a recording that ends it each time must be moved aside.")
            raise AuditError(Problem("worker-lost", in_hand, said, remedy)) from None
        if found.problem is not None:
            found = replace(found, problem=replace(found.problem, where=path))
        register.keep(path, stamp, found)
        yield path


def read_recording(path: Path, stamp: Stamp, store: SmallStore | None, threads: int = 0) -> Indexed:
    """Everything of one recording; what is wrong with it is no error here. Another process may do this."""
    try:
        found = _read(path, store, threads)
        if _stamp(path) != stamp:
            return _changing(path)
    except ReviewerError as error:
        return Indexed(problem=error.problems[0])
    except OSError as fault:
        said = message("It cannot be read: {reason}.", reason=reason(fault))
        return Indexed(problem=Problem("cannot-read", path.name, said, message("See that you may read it.")))
    return found


def _read(path: Path, store: SmallStore | None, threads: int) -> Indexed:
    with video.open_recording(path) as recording:
        facts = recording.facts
        if store is None:
            digest = video.fingerprint(path)
            return Indexed(digest, cited(replace(facts, sha256=digest)))
        survey = video.Survey(recording, store, threads)
        problem = None
        try:
            with _Here() if threads == 1 else ThreadPoolExecutor(1) as beside:
                survey.run(lambda done, all_: True, beside)
        except ReviewerError as error:  # the recording is sound where only the disk is full
            problem = error.problems[0]
            if problem.code != _KEPT_NOT:
                raise
        finally:
            survey.close()
        problem = problem or _damage(recording.facts, path)
    return Indexed(survey.sha256, cited(replace(facts, sha256=survey.sha256)), survey.complete, problem)


def _damage(facts: RecordingFacts, path: Path) -> Problem | None:
    """That frames are damaged or missing; the others may be audited."""
    count = len(facts.missing) + sum(last - first + 1 for first, last in facts.suspect)
    if not count:
        return None
    frames = len(facts.pts)
    said = message("{count} of its {frames} frames are damaged or missing.", count=count, frames=frames)
    remedy = message("Ask for a copy that is whole; until then the desk says which frames they are.")
    return Problem("damaged", path.name, said, remedy)


class _Here(Executor):
    """Does what it is given at once: where every core is at work, handing over only costs."""

    def submit(self, doing: Callable[_P, _T], /, *args: _P.args, **words: _P.kwargs) -> Future[_T]:
        """Done when this returns."""
        future: Future[_T] = Future()
        try:
            future.set_result(doing(*args, **words))
        except Exception as fault:  # whoever asks for the result is told
            future.set_exception(fault)
        return future


def _stamp(path: Path) -> Stamp:
    found = path.stat()
    return Stamp(found.st_mtime_ns, found.st_size)


def _changing(path: Path) -> Indexed:
    said = message("It was changed while it was read.")
    return Indexed(problem=Problem("changing", path.name, said, message("Index the meet again.")))
