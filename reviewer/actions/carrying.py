"""The bars of an earlier reading carried to another frame of the recording."""

from collections.abc import Callable, Iterator
from pathlib import Path

from reviewer import measuring, video
from reviewer.actions.audit import AuditError
from reviewer.measuring import Carried
from reviewer.terms.messages import message
from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks

FARTHEST_S = 30
"""Seconds over which a camera is followed from one frame to another."""
_EACH_S = 1 / 15
"""Seconds between two pictures that are looked at; a hand turns a camera by a few degrees in that."""


def carry_bars(recording: Path, clicks: Clicks, frame: int, going_on: Callable[[], bool]) -> Carried:
    """Where the bars clicked on one frame lie on another one; opens the recording anew, from any thread.

    ``going_on`` is asked before each picture; where it says no, an AuditError ends the search.
    """
    onwards = frame >= clicks.frame
    with video.open_recording(recording) as shown:
        frames = _between(shown.facts, *sorted((clicks.frame, frame)))

        def pictures() -> Iterator[Picture]:
            for one in frames:
                if not going_on():
                    raise AuditError(
                        Problem(
                            "stopped",
                            f"frame {one}",
                            message("The search was stopped."),
                            message("Lay it again."),
                        )
                    )
                yield shown.picture(one)

        return measuring.carried(clicks, pictures(), onwards=onwards)


def _between(facts: RecordingFacts, first: int, last: int) -> list[int]:
    """The frames to look at, both ends among them; refused where these are too far apart."""
    seconds = facts.time_base.numerator / facts.time_base.denominator
    if (facts.pts[last] - facts.pts[first]) * seconds > FARTHEST_S:
        said = message(
            "The bars were clicked on frame {first}, more than {farthest} s away.",
            first=first if first else last,
            farthest=FARTHEST_S,
        )
        raise AuditError(
            Problem("too-far", f"frames {first} to {last}", said, message("Click the bars here."))
        )
    found, seen = [first], facts.pts[first]
    for frame in range(first + 1, last):
        if (facts.pts[frame] - seen) * seconds >= _EACH_S:
            found.append(frame)
            seen = facts.pts[frame]
    return found if first == last else [*found, last]
