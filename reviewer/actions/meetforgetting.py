"""What was deleted forgotten by the meet that it belonged to: a recording's path may hold a name."""

import os
from collections.abc import Collection, Iterator
from dataclasses import replace
from pathlib import Path

from reviewer.actions.meetholding import held_meet
from reviewer.exchange.meets import NAME, write_meet
from reviewer.shelf import has_register, open_register
from reviewer.terms.meets import Meet
from reviewer.terms.problems import Problem, ReviewerError


def forget_in_meets(case: Path, recordings: Collection[Path]) -> tuple[Problem, ...]:
    """Let every meet that a case lies in know nothing more of these recordings; why one could not be."""
    return tuple(_forgotten(case, recordings)) if recordings else ()


def _forgotten(case: Path, recordings: Collection[Path]) -> Iterator[Problem]:
    for folder in case.resolve().parents:
        if (folder / NAME).is_file():
            try:
                _forget(folder, recordings)
            except ReviewerError as fault:
                yield from fault.problems


def _forget(folder: Path, recordings: Collection[Path]) -> None:
    with held_meet(folder) as meet:
        gone = set(_below(folder, meet, recordings))
        starts = tuple(
            replace(one, recordings=tuple(path for path in one.recordings if path not in gone))
            for one in meet.starts
        )
        if starts != meet.starts:
            write_meet(folder, replace(meet, starts=starts))
    if has_register(folder):
        with open_register(folder) as register:
            register.forget(gone)


def _below(folder: Path, meet: Meet, recordings: Collection[Path]) -> Iterator[str]:
    """The paths as a meet names them; its folder of recordings may be gone as well."""
    if meet.recordings is not None:
        inside = Path(os.path.normpath(folder / meet.recordings)).resolve()
        for path in recordings:
            real = path.parent.resolve() / path.name
            if real.is_relative_to(inside):
                yield real.relative_to(inside).as_posix()
