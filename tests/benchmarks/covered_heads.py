"""Heads covered in the sample clips, exported, decoded again and held to the truth: is any pixel left?

Covers are put by an unsteady hand, one every five to seven seconds; the truth is that of the scripts that
drew the clips. The time is that of following, over a plain loop that decodes the same frames.
"""

from collections.abc import Iterator

import av

from reviewer import actions
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure, timed
from tests.masking import heads_drawn


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """Frames on which a head is left, and those in listed stretches, of one sample clip."""
    heads_drawn.true_region(label, 0)  # the hall is drawn once, which is no part of following
    case = setting.scratch / f"{label}.case"
    seconds = timed(lambda: heads_drawn.covered_case(setting.scratch, label))
    with actions.open_case(case, author=None) as audit:
        covered = actions.covers_on(audit)
    lost = sum(last - first + 1 for first, last in covered.lost)
    clip = setting.scratch / f"{label}.covered.mp4"
    heads_drawn.exported(case, clip)
    left = len(heads_drawn.frames_with_a_head(label, clip))
    placed = f"{len(heads_drawn.PLACED[label])} covers by hand"
    yield _count(f"frames of {label} that show some of a head, {placed}", left, "frames", 0.0)
    yield _count(f"frames of {label} in listed stretches", 100 * lost / covered.frames, "%", 10.0)
    ratio = seconds / timed(lambda: _decoded(label))
    yield Figure(f"following {label} / (libav, decoding)", ratio, "x", 1, ratio, ratio, None, None)


def _count(what: str, found: float, unit: str, at_most: float) -> Figure:
    return Figure(what, found, unit, 1, found, found, None, at_most)


def _decoded(label: str) -> None:
    with av.open(str(heads_drawn.CLIPS / f"{label}.mp4")) as container:
        for _ in container.decode(video=0):
            pass
