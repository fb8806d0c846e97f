"""Two cameras on one routine share one line of time; a repeated exercise is another attempt."""

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as some

from reviewer.casefile import (
    Case,
    CaseError,
    Joined,
    RecordingCited,
    counterpart,
    offset_of,
    offsets_from,
)

HALL, STAND, SECOND = "1a" * 32, "2b" * 32, "3c" * 32
"""A camera at the judges' table, one in the stand, and one that filmed the second attempt."""


def cite(case: Case, sha256: str, base: str, step: int, frames: int, first: int = 0, **also: Any) -> None:
    ticks = {"first_pts": first, "last_pts": first + step * (frames - 1), "pts_runs": [[first, step, frames]]}
    case.append("recording-cited", {"sha256": sha256, "frames": frames, "time_base": base, **ticks, **also})


def join(case: Case, a: str, a_pts: int, b: str, b_pts: int) -> None:
    said = {"a": a, "a_pts": a_pts, "b": b, "b_pts": b_pts, "offset_us": 0, "u_us": 0}
    case.append("recordings-joined", said)


def mark(case: Case, name: str, recording: str | None, **ticks: int) -> None:
    said: dict[str, Any] = {"id": name, "kind": "element", "code": "cast", **ticks}
    case.append("mark-placed", {"mark": said | ({"recording": recording} if recording else {})})


def order(case: Case) -> list[str]:
    return [one.id for one in case.state.marks]


@pytest.fixture
def two_cameras(case: Case) -> Case:
    """25 frames a second from the table, 30000/1001 from the stand, which began about a second later."""
    cite(case, HALL, "1/25", 1, 500)
    cite(case, STAND, "1/30000", 1001, 600)
    mark(case, "kip", None, start=100)
    mark(case, "cast", None, start=150)
    return case


def test_a_fall_marked_on_the_second_camera_lies_between_the_elements_marked_on_the_first(
    two_cameras: Case,
) -> None:
    mark(two_cameras, "fall", STAND, at=1001 * 120)
    assert order(two_cameras) == ["kip", "cast", "fall"]  # nothing is known of its time yet
    join(two_cameras, HALL, 25, STAND, 0)
    assert order(two_cameras) == ["kip", "fall", "cast"]  # 1 s + 4.004 s lies between 4 s and 6 s


def test_an_undone_instant_is_as_if_it_had_never_been_set(two_cameras: Case) -> None:
    mark(two_cameras, "fall", STAND, at=1001 * 120)
    before = two_cameras.state
    join(two_cameras, HALL, 25, STAND, 0)
    two_cameras.undo()
    assert (order(two_cameras), two_cameras.state.joins) == (["kip", "cast", "fall"], before.joins)
    two_cameras.redo()
    assert order(two_cameras) == ["kip", "fall", "cast"]


def test_of_one_pair_the_instant_said_last_counts(two_cameras: Case) -> None:
    mark(two_cameras, "fall", STAND, at=1001 * 120)
    join(two_cameras, HALL, 25, STAND, 0)
    join(two_cameras, STAND, 0, HALL, 75)
    assert order(two_cameras) == ["kip", "cast", "fall"]  # 3 s + 4.004 s lies after 6 s
    assert len(two_cameras.state.joins) == 1


def test_moments_closer_than_a_float_tells_apart_keep_their_order(case: Case) -> None:
    """Two clocks of very fine ticks, a thousand days in: a billionth of a second decides."""
    cite(case, HALL, "1/1000000007", 10**12, 100_000)
    cite(case, STAND, "1/1000000009", 10**12, 100_000)
    join(case, HALL, 0, STAND, 0)
    (a, b) = case.state.recordings
    shift = offset_of(a, 0, b, 0).seconds
    far = 86_400_000 * 1_000_000_009
    here = (Fraction(far, 1_000_000_009) + shift) * 1_000_000_007
    mark(case, "before", None, start=int(here))
    mark(case, "seen", STAND, start=far)
    mark(case, "after", None, start=int(here) + 1)
    assert order(case) == ["before", "seen", "after"]
    assert float(here) == float(int(here)) == float(int(here) + 1)


def test_without_an_instant_the_second_camera_follows_the_first_and_attempts_follow_each_other(
    case: Case,
) -> None:
    cite(case, HALL, "1/25", 1, 500)
    cite(case, SECOND, "1/25", 1, 500, attempt=2)
    cite(case, STAND, "1/25", 1, 500)
    for number, (name, camera) in enumerate((("again", SECOND), ("stand", STAND), ("hall", None))):
        mark(case, name, camera, start=10 - number)
    assert order(case) == ["hall", "stand", "again"]


@pytest.mark.parametrize(
    ("first", "second"),
    [(("1/25", 1), ("1/25", 1)), (("1/60000", 1001), ("1/30000", 1001)), (("1/1000", 33), ("1/90000", 375))],
)
def test_the_offset_and_its_uncertainty_follow_the_rectangular_distribution(
    first: tuple[str, int], second: tuple[str, int]
) -> None:
    """JCGM 100:2008, 4.3.7: expectation in the middle, variance the square of the width over 12."""
    (a, a_step), (b, b_step) = (
        (RecordingCited(name * 32, 9, base, tuple(range(0, 9 * step, step))), step)
        for name, (base, step) in (("aa", first), ("bb", second))
    )
    found = offset_of(a, 3 * a_step, b, 5 * b_step)
    widths = [float(Fraction(one.time_base)) * step for one, step in ((a, a_step), (b, b_step))]
    assert found.microseconds == pytest.approx((3.5 * widths[0] - 5.5 * widths[1]) * 1e6, abs=0.51)
    assert found.uncertainty == pytest.approx(1e6 * (sum(w * w for w in widths) / 12) ** 0.5, abs=0.51)


def test_two_cameras_of_25_frames_a_second_are_known_to_16_milliseconds() -> None:
    """0.04 s times the square root of 2/12, worked by hand: 16.32993 ms."""
    a, b = (RecordingCited(name * 32, 9, "1/25", tuple(range(9))) for name in ("aa", "bb"))
    assert (offset_of(a, 2, b, 7).microseconds, offset_of(a, 2, b, 7).uncertainty) == (-200_000, 16_330)


def test_a_picture_that_stays_longer_says_less_of_the_instant() -> None:
    steady = RecordingCited("aa" * 32, 4, "1/1000", (0, 40, 80, 120))
    halting = RecordingCited("bb" * 32, 4, "1/1000", (0, 40, 240, 280))
    assert offset_of(steady, 40, halting, 40).uncertainty > 3 * offset_of(steady, 40, halting, 0).uncertainty


def test_the_last_picture_is_taken_to_stay_as_long_as_the_one_before() -> None:
    recording = RecordingCited("aa" * 32, 4, "1/1000", (0, 40, 40, 100))
    assert [recording.on_screen(tick) for tick in (0, 39, 40, 99, 100)] == [
        (0, 40),
        (0, 40),
        (40, 100),
        (40, 100),
        (100, 160),
    ]


def three(*attempts: int) -> tuple[RecordingCited, ...]:
    names = zip(("aa", "bb", "cc"), attempts or (1, 1, 1), strict=True)
    return tuple(RecordingCited(name * 32, 99, "1/25", tuple(range(99)), n) for name, n in names)


def joined(a: RecordingCited, a_pts: int, b: RecordingCited, b_pts: int) -> Joined:
    return Joined(a.sha256, a_pts, b.sha256, b_pts, 0, 0)


def test_a_third_camera_is_placed_through_the_second_and_variances_add() -> None:
    a, b, c = three()
    found = offsets_from(a, (a, b, c), (joined(a, 10, b, 0), joined(c, 7, b, 2)))
    assert found[c.sha256].seconds == Fraction(10 + 2 - 7, 25)
    assert found[c.sha256].variance == 2 * found[b.sha256].variance == Fraction(4, 12 * 625)


def test_where_instants_make_a_ring_what_was_said_last_counts() -> None:
    a, b, c = three()
    ring = (joined(a, 10, b, 0), joined(b, 10, c, 0), joined(a, 50, c, 0))
    found = offsets_from(a, (a, b, c), ring)
    assert found[c.sha256].seconds == Fraction(50, 25)
    assert found[b.sha256].seconds == Fraction(40, 25)


def test_attempts_share_no_instant() -> None:
    a, b, c = three(1, 2, 1)
    assert set(offsets_from(a, (a, b, c), (joined(a, 1, b, 1),))) == {a.sha256}


@given(
    some.lists(some.integers(1, 9), min_size=2, max_size=40),
    some.lists(some.integers(1, 9), min_size=2, max_size=40),
    some.data(),
)
def test_the_frames_that_were_joined_lead_to_each_other(
    steps: list[int], others: list[int], data: some.DataObject
) -> None:
    a, b = (
        RecordingCited(name * 32, len(of), base, tuple(sum(of[:n]) for n in range(len(of))))
        for name, of, base in (("aa", steps, "1/30"), ("bb", others, "1001/24000"))
    )
    f, g = data.draw(some.integers(0, len(steps) - 1)), data.draw(some.integers(0, len(others) - 1))
    there, back = offset_of(b, b.pts[g], a, a.pts[f]), offset_of(a, a.pts[f], b, b.pts[g])
    assert counterpart(a, a.pts[f], b, there) == g
    assert counterpart(b, b.pts[g], a, back) == f
    shown = [counterpart(a, pts, b, there) for pts in a.pts]
    assert all(x <= y for x, y in pairwise(number for number in shown if number is not None))


def test_past_the_ends_of_the_other_camera_there_is_no_frame() -> None:
    a, b, _ = three()
    there = offset_of(b, 0, a, 40)  # b begins at frame 40 of a
    assert [counterpart(a, tick, b, there) for tick in (39, 40, 98)] == [None, 0, 58]
    there = offset_of(b, 98, a, 40)
    assert [counterpart(a, tick, b, there) for tick in (40, 41)] == [98, None]


def test_the_attempt_that_counts_is_the_one_said_last_and_that_can_be_undone(case: Case) -> None:
    cite(case, HALL, "1/25", 1, 500)
    cite(case, SECOND, "1/25", 1, 500, attempt=2)
    assert case.state.attempt == 1
    case.append("attempt-counted", {"attempt": 2})
    assert case.state.attempt == 2
    case.undo()
    assert case.state.attempt == 1


def test_a_recording_moves_to_another_attempt_and_its_instant_no_longer_joins(two_cameras: Case) -> None:
    join(two_cameras, HALL, 25, STAND, 0)
    mark(two_cameras, "fall", STAND, at=1001 * 120)
    two_cameras.append("attempt-assigned", {"sha256": STAND, "attempt": 2})
    assert order(two_cameras) == ["kip", "cast", "fall"]
    assert [one.attempt for one in two_cameras.state.recordings] == [1, 2]
    two_cameras.undo()
    assert order(two_cameras) == ["kip", "fall", "cast"]


def test_an_attempt_nobody_filmed_any_more_cannot_count(case: Case) -> None:
    cite(case, HALL, "1/25", 1, 500)
    case.append("attempt-counted", {"attempt": 7})
    assert case.state.attempt == 1


def test_the_first_recording_stays_the_first_when_it_is_cited_again(two_cameras: Case) -> None:
    cite(two_cameras, HALL, "1/25", 1, 500)
    assert [one.sha256 for one in two_cameras.state.recordings] == [HALL, STAND]
    assert two_cameras.state.recording == two_cameras.state.recordings[0]


@pytest.mark.parametrize(
    ("kind", "payload"),
    [
        ("recordings-joined", {"a": HALL, "a_pts": 0, "b": HALL, "b_pts": 0, "offset_us": 0, "u_us": 0}),
        ("recordings-joined", {"a": HALL, "a_pts": 0, "b": STAND, "b_pts": 0, "offset_us": 0, "u_us": -1}),
        ("recordings-joined", {"a": HALL, "a_pts": 0, "b": STAND, "b_pts": 0, "offset_us": 0.5, "u_us": 1}),
        ("recordings-joined", {"a": "1", "a_pts": 0, "b": STAND, "b_pts": 0, "offset_us": 0, "u_us": 1}),
        ("attempt-counted", {"attempt": 0}),
        ("attempt-counted", {"attempt": True}),
        ("attempt-counted", {"attempt": 100}),
        ("attempt-assigned", {"sha256": HALL}),
    ],
)
def test_an_instant_or_attempt_that_cannot_be_is_refused(
    case: Case, kind: str, payload: dict[str, Any]
) -> None:
    with pytest.raises(CaseError):
        case.append(kind, payload)
    assert len(case.events) == 1


def test_a_recording_of_no_attempt_is_refused(case: Case) -> None:
    with pytest.raises(CaseError):
        cite(case, HALL, "1/25", 1, 5, attempt=0)


def test_instants_of_recordings_a_case_does_not_cite_are_let_be(two_cameras: Case) -> None:
    join(two_cameras, HALL, 10**9, "9f" * 32, -5)
    mark(two_cameras, "elsewhere", "9f" * 32, start=0)
    assert order(two_cameras) == ["kip", "cast", "elsewhere"]


def test_the_marks_of_two_cameras_follow_each_other_as_they_happened(two_cameras: Case) -> None:
    join(two_cameras, HALL, 25, STAND, 0)
    for second in range(7, 17):
        mark(two_cameras, f"table-{second}", None, start=second * 25)
        mark(two_cameras, f"stand-{second}", STAND, start=(second - 1) * 30_000 + 15_000)
    seen = [f"{seat}-{second}" for second in range(7, 17) for seat in ("table", "stand")]
    assert order(two_cameras) == ["kip", "cast", *seen]
