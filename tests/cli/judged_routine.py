"""A routine of two seconds, filmed and judged, for the pages that are made of one."""

import subprocess
from pathlib import Path

from reviewer import actions
from reviewer.terms.exact import Points

MOVING = "testsrc2=s=320x180:r=30:d=2"


def filmed(path: Path) -> Path:
    """A recording of 60 pictures."""
    made = ("-f", "lavfi", "-i", MOVING, "-c:v", "libx264", "-pix_fmt", "yuv420p", str(path))
    subprocess.run(["ffmpeg", "-v", "error", "-nostdin", *made], check=True)
    return path


def judged(
    path: Path, recording: Path | None, uses: tuple[str, ...] = ("teaching",), book: str = "demo-bars-2"
) -> Path:
    """Three elements in turn; two judges took 0.100 and 0.200 for bent arms on the second."""
    with actions.start_case(
        path, author="A", athlete_code="G-07", consent="given", rule_book=book, recording=recording
    ) as audit:
        base = audit.state.recording.base.denominator if audit.state.recording else 1000
        codes = ("pullover", "sole-circle", "underswing-dismount")
        for place, code in enumerate(codes):
            start, roles = place * base // 2, {0: ("mount",), 2: ("dismount",)}.get(place, ())
            timed = {"start": start, "end": start + base // 3} if recording else {"order": place}
            actions.place_mark(audit, kind="element", code=code, roles=roles, **timed)
        for judge, amount in (("A", "0.100"), ("B", "0.200")):
            points = Points.parse(amount)
            when = {"at": base * 2 // 3} if recording else {}
            actions.place_mark(
                audit, kind="fault", code="arms-bent", element="m2", amount=points, judge=judge, **when
            )
        actions.give_consent(audit, uses, None, "2026-11-26")
    return path
