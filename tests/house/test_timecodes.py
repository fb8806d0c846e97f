"""Time code, held against SMPTE ST 12-1's counting and against OpenTimelineIO (its `opentime`)."""

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import floor

import pytest
from hypothesis import given
from hypothesis import strategies as st
from opentimelineio.opentime import RationalTime, from_timecode, to_timecode

from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.timecodes import KNOWN, REDUCED, Rate, Scale, TimeCodes, rate_of
from reviewer.terms.times import TimeBase

TELEVISION = Scale(30, drop=True)
FAST_TELEVISION = Scale(60, drop=True)
LIBRARY_RATES = {
    Scale(24): 24.0,
    Scale(25): 25.0,
    Scale(30): 30.0,
    Scale(48): 48.0,
    Scale(50): 50.0,
    Scale(60): 60.0,
    TELEVISION: 30000 / 1001,
    FAST_TELEVISION: 60000 / 1001,
}
ALL_RATES = [*map(Rate, (*KNOWN, 15, 90)), *(Rate(base, reduced=True) for base in REDUCED)]
TIME_BASES = ("1/1000", "1/90000", "1/30000", "1/16000", "1/1000000000")


def recording(pts: Sequence[int], base: str = "1/90000", start: str | None = None) -> RecordingFacts:
    whole = TimeBase.parse(base)
    return RecordingFacts("", whole, tuple(pts), (0,), "index", (2, 2), (2, 2), 0, "1/1", time_code=start)


def steady(
    rate: Rate,
    frames: int,
    base: str = "1/90000",
    rounded: Callable[[Fraction], int] = round,
    start: str | None = None,
) -> RecordingFacts:
    step = Fraction(TimeBase.parse(base).denominator * rate.denominator, rate.numerator)
    return recording([rounded(number * step) for number in range(frames)], base, start)


@pytest.mark.parametrize(
    ("count", "label"),
    [
        (1799, "00:00:59;29"),
        (1800, "00:01:00;02"),
        (10790, "00:06:00;02"),
        (17981, "00:09:59;29"),
        (17982, "00:10:00;00"),
        (107892, "01:00:00;00"),
        (1084319, "10:03:00;05"),
        (2589407, "23:59:59;29"),
    ],
)
def test_television_leaves_out_two_numbers_a_minute_but_the_tenth(count: int, label: str) -> None:
    """SMPTE ST 12-1 at 29.97, as the drop-frame documents and tests of OpenTimelineIO print it."""
    assert str(TELEVISION.label(count)) == label
    assert TELEVISION.count(label) == count


def test_the_same_frame_without_dropping() -> None:
    """Source as above: 1084319 is 10:03:00;05 and, counted without dropping, 10:02:23:29."""
    assert str(Scale(30).label(1084319)) == "10:02:23:29"


def test_twice_the_rate_leaves_out_four() -> None:
    """Source as above, 59.94: frame 1084319 is 05:01:30;03."""
    assert str(FAST_TELEVISION.label(1084319)) == "05:01:30;03"
    assert str(FAST_TELEVISION.label(3600)) == "00:01:00;04"


def test_an_hour_by_the_label_is_an_hour_by_the_clock() -> None:
    """ST 12-1: one drop-frame hour of 107892 frames lasts 3599.9964 s."""
    assert Fraction(TELEVISION.count("01:00:00;00") * 1001, 30000) == Fraction("3599.9964")


def test_labels_roll_over_after_a_day() -> None:
    assert TELEVISION.day == 2_589_408
    assert str(TELEVISION.label(2_589_408)) == "00:00:00;00"
    assert Scale(24).count("23:59:59:23") == 2_073_599
    assert str(Scale(24).label(2_073_600)) == "00:00:00:00"


@given(st.sampled_from(list(LIBRARY_RATES)), st.integers(0, 6_000_000))
def test_every_label_is_the_one_opentimelineio_gives(scale: Scale, count: int) -> None:
    rate = LIBRARY_RATES[scale]
    label = str(scale.label(count))
    # The library keeps 59.94 as a binary fraction; above a day both roll over.
    assert label == to_timecode(RationalTime(count % scale.day, rate), rate)
    assert scale.count(label) == count % scale.day == from_timecode(label, rate).to_frames()


@given(st.sampled_from([*map(Scale, KNOWN), TELEVISION, FAST_TELEVISION]), st.integers(0, 25_000_000))
def test_a_label_leads_back_to_its_frame(scale: Scale, count: int) -> None:
    assert scale.count(str(scale.label(count))) == count % scale.day


@pytest.mark.parametrize(
    ("scale", "text", "why"),
    [
        (Scale(24), "00:01:00;02", "drops no numbers"),
        (TELEVISION, "00:01:00:02", "drops numbers"),
        (Scale(24), "00:00:00:24", "outside 00:00:00:00 to 23:59:59:23"),
        (TELEVISION, "00:01:00;00", "leaves out"),
        (TELEVISION, "12:59:00;01", "leaves out"),
        (FAST_TELEVISION, "00:09:00;03", "leaves out"),
        (Scale(25), "24:00:00:00", "outside"),
        (Scale(25), "00:60:00:00", "outside"),
        (Scale(25), "00:00:60:00", "outside"),
        (Scale(25), "0:00:00:00", "hours:minutes:seconds:frames"),
        (Scale(25), "٠٠:00:00:00", "hours:minutes:seconds:frames"),
        (Scale(25), "-00:00:01:00", "hours:minutes:seconds:frames"),
    ],
)
def test_what_is_no_label_is_refused(scale: Scale, text: str, why: str) -> None:
    """ST 12-1: hours to 23, frames below the count, no dropped number, and no semicolon without dropping."""
    with pytest.raises(ValueError, match=why):
        scale.count(text)


def test_each_tenth_minute_keeps_its_first_numbers() -> None:
    assert TELEVISION.count("00:10:00;00") == 17982
    assert FAST_TELEVISION.count("00:20:00;03") == 2 * 2 * 17982 + 3


@pytest.mark.parametrize("base", TIME_BASES)
@pytest.mark.parametrize("rate", ALL_RATES, ids=str)
@pytest.mark.parametrize("rounded", [floor, round])
def test_a_steady_rate_is_found_from_rounded_times(
    rate: Rate, base: str, rounded: Callable[[Fraction], int]
) -> None:
    """Twenty seconds of each rate, rounded to the ticks that Matroska, MP4 and transport streams use."""
    assert rate_of(steady(rate, 20 * rate.base, base, rounded)) == rate


@pytest.mark.parametrize("rate", ALL_RATES, ids=str)
def test_a_tick_a_frame_tells_the_rate_exactly(rate: Rate) -> None:
    """AVI's and MXF's time base is one frame, so a second of it is enough."""
    assert rate_of(recording(range(rate.base), f"{rate.denominator}/{rate.numerator}")) == rate


def test_milliseconds_copied_into_finer_ticks_are_still_milliseconds() -> None:
    """Matroska's times put into an MP4 of 1/16000 s, as FFmpeg does without decoding again."""
    milliseconds = steady(Rate(30, reduced=True), 600, "1/1000").pts
    assert rate_of(recording([16 * tick for tick in milliseconds], "1/16000")) == Rate(30, reduced=True)


def test_one_frame_left_out_makes_the_rate_vary() -> None:
    whole = list(range(90))
    assert rate_of(recording(whole, "1/30")) == Rate(30)
    del whole[40]
    assert rate_of(recording(whole, "1/30")) is None


def test_a_short_recording_may_be_told_by_its_own_start_code() -> None:
    """Ten frames in milliseconds fit 30 and 29.97 alike."""
    short = steady(Rate(30, reduced=True), 10, "1/1000")
    dropping = recording(short.pts, "1/1000", "01:00:00;00")
    assert rate_of(short) == Rate(30)
    assert rate_of(dropping) == Rate(30, reduced=True)


def test_the_files_own_start_code_is_the_first_frames() -> None:
    codes = TimeCodes.of(steady(Rate(30, reduced=True), 300, start="00:59:59;28"))
    assert [str(codes.label(frame)) for frame in (0, 1, 2)] == ["00:59:59;28", "00:59:59;29", "01:00:00;00"]
    assert codes.frame("01:00:00;00") == 2
    with pytest.raises(KeyError):
        codes.frame("00:59:59;27")
    with pytest.raises(KeyError):
        codes.frame("01:00:30;00")


def test_a_colon_in_the_start_code_means_that_no_numbers_are_dropped() -> None:
    codes = TimeCodes.of(steady(Rate(30, reduced=True), 1801, start="00:00:00:00"))
    assert str(codes.label(1800)) == "00:01:00:00"


def test_a_recording_may_run_past_midnight() -> None:
    codes = TimeCodes.of(steady(Rate(25), 100, start="23:59:59:00"))
    assert str(codes.label(25)) == "00:00:00:00"
    assert codes.frame("00:00:00:00") == 25


def test_a_start_code_that_cannot_be_is_set_aside_and_said() -> None:
    codes = TimeCodes.of(steady(Rate(25), 100, start="01:00:00;00"))
    assert (codes.unread, str(codes.label(0))) == ("01:00:00;00", "00:00:00:00")


@pytest.mark.parametrize(
    ("rate", "label"),
    [
        (Rate(24, reduced=True), "00:00:59:23"),
        (Rate(30, reduced=True), "00:00:59;29"),
        (Rate(48, reduced=True), "00:00:59:47"),
        (Rate(60, reduced=True), "00:00:59;59"),
        (Rate(120, reduced=True), "00:00:59:119"),
    ],
    ids=str,
)
def test_only_the_two_television_rates_drop_numbers(rate: Rate, label: str) -> None:
    codes = TimeCodes.of(steady(rate, 60 * rate.base))
    assert str(codes.label(60 * rate.base - 1)) == label
    assert not codes.label(0).nominal


varying = st.lists(st.integers(0, 9000), min_size=1, max_size=60).map(
    lambda gaps: [sum(gaps[:place]) for place in range(len(gaps) + 1)]
)


def test_a_varying_rate_is_counted_from_time_and_says_so() -> None:
    """A phone at about 30 a second that stops for a second: the label keeps to the clock."""
    codes = TimeCodes.of(recording([0, 3010, 5990, 9000, 99000, 102010, 105000]))
    assert [str(codes.label(frame)) for frame in range(7)] == [
        "00:00:00:00",
        "00:00:00:01",
        "00:00:00:02",
        "00:00:00:03",
        "00:00:01:03",
        "00:00:01:04",
        "00:00:01:05",
    ]
    assert codes.label(4).nominal
    assert codes.frame("00:00:01:03") == 4
    assert codes.frame("00:00:00:20") == 3  # still on screen then


@given(varying, st.integers(-100_000, 100_000))
def test_a_nominal_label_is_within_half_a_count_of_the_time(pts: list[int], first: int) -> None:
    codes = TimeCodes.of(recording([first + tick for tick in pts]))
    for frame, tick in enumerate(pts):
        label = codes.label(frame)
        if label.nominal:
            count = codes.scale.count(str(label))
            assert abs(Fraction(count, codes.rate.base) - Fraction(tick, 90000)) * 2 * codes.rate.base <= 1
            assert str(codes.label(codes.frame(str(label)))) == str(label)


def test_a_varying_rate_with_a_dropping_start_code_keeps_dropping() -> None:
    """By the clock, ten minutes after 00:00:00;00 the label is 00:10:00;00 (ST 12-1, to within a frame)."""
    minutes = [minute * 60 * 90000 for minute in range(11)]
    pts = sorted({*minutes, *range(0, 90000, 3010)})
    codes = TimeCodes.of(recording(pts, start="00:00:00;00"))
    assert str(codes.label(len(pts) - 1)) == "00:10:00;00"
    assert codes.label(0).nominal


@pytest.mark.parametrize(
    ("gap", "base", "usual"), [(8, "1/1000", 120), (4, "1/1000", 240), (33, "1/1000", 30), (66, "1/1000", 15)]
)
def test_a_varying_rate_counts_by_the_usual_rate_nearest(gap: int, base: str, usual: int) -> None:
    codes = TimeCodes.of(recording([0, gap, 2 * gap, 3 * gap, 3 * gap + 900], base))
    assert (codes.scale.base, codes.nominal) == (usual, True)


@pytest.mark.parametrize("pts", [(7,), (7, 7, 7)])
def test_a_single_moment_has_a_label(pts: tuple[int, ...]) -> None:
    codes = TimeCodes.of(recording(pts))
    assert str(codes.label(len(pts) - 1)) == "00:00:00:00"
    assert codes.label(0).nominal


def test_there_is_no_label_outside_the_recording() -> None:
    codes = TimeCodes.of(steady(Rate(25), 10))
    for outside in (-1, 10):
        with pytest.raises(IndexError):
            codes.label(outside)
