"""Audited routines to be scored again, drawn by chance from a seed."""

from random import Random

from reviewer import rules
from reviewer.actions.meetrescoring import Job
from tests.actions.drawn_meet import EDITION, routine, start


def jobs_of(number: int, seed: int = 11) -> list[Job]:
    """So many of them."""
    chance, book = Random(seed), rules.load(rules.find(EDITION))
    found = []
    for at in range(1, number + 1):
        marks = routine(chance, book)
        posted = start(at, marks, chance, book).posted
        found.append(Job(str(at), "", book.text, frozenset(), marks, ("K",), posted))
    return found
