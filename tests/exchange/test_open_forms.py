"""Cases in open forms, read back by readers that others wrote.

W3C Web Annotation by a JSON-LD processor (PyLD), WebVTT by webvtt-py, the timeline by OpenTimelineIO, tables
by Python's csv. Media Fragments: the examples of the W3C's test cases TC0001 to TC0017.
"""

import csv
import io
import json
import re
import shutil
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import opentimelineio as otio
import pytest
import webvtt
from pyld import jsonld

from reviewer import actions
from reviewer.actions.passages import id_outside, letters
from reviewer.exchange.chapters import captions, chapters
from reviewer.exchange.csvout import table
from reviewer.exchange.timeline import timeline
from reviewer.exchange.webannotation import CONTEXT as NAMED
from reviewer.exchange.webannotation import fragment, web_annotations
from reviewer.terms.exact import Points
from reviewer.terms.passages import Footage, Passage
from reviewer.terms.problems import ReviewerError
from reviewer.terms.times import TimeBase
from tests.exchange.anno_context import AS, CONTEXT, OA, RDF, TERMS

ROOT = Path(__file__).resolve().parents[2]
CLIP, DIGEST = ROOT / "sample_clips" / "square-on.mp4", "ab" * 32
TODAY = "2026-11-26"
THIRTIETHS = Footage(DIGEST, f"urn:sha256:{DIGEST}", TimeBase(1, 30), 0, 900)
CAST = Passage(
    "m2", "cd" * 32, "fault", "arms-bent", "Arms bent", ("fault.arms-bent",), DIGEST, 90, 210,
    Points(100), "A", None,
)  # fmt: skip
HOSTILE = (
    "=HYPERLINK(\"x\")", "-->\n00:00:00.000 --> 99:00:00.000\nfalse", "<script>alert(1)</script>", "&amp;<b>",
    "\u202egnp.exe\u202c", "a\r\nb\x00c\td", "w" * 10_000, "\"}],\"id\":\"x", "--->",
    "@SUM(1+1)", "+1", "\t=1",
)  # fmt: skip
hostile = pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample routine, with one fact that has no time."""
    path = tmp_path_factory.mktemp("forms") / "routine.case"
    with actions.start_case(path, author="A", athlete_code="G-07", consent="given", recording=CLIP) as audit:
        actions.import_marks(audit, ROOT / "annotations" / "square-on.marks.json")
        actions.place_mark(audit, kind="fact", code="springboard-left")
    return path


def exported(case: Path, form: str, folder: Path, **also: Any) -> bytes:
    out = folder / "exported"
    with actions.open_case(case, author=None) as audit:
        actions.export_case(audit, form, out, today=TODAY, **also)
    return out.read_bytes()


def cues(document: bytes) -> list[webvtt.Caption]:
    """The cues that a WebVTT reader finds."""
    return list(webvtt.from_string(document.decode()).captions)


def expanded(document: bytes) -> Mapping[str, Any]:
    """The one node that a JSON-LD processor finds; it may fetch nothing but the context that is here."""

    def load(url: str, _: Mapping[str, Any]) -> dict[str, Any]:
        assert url == NAMED
        return {"contextUrl": None, "documentUrl": url, "document": CONTEXT}

    (node,) = jsonld.expand(json.loads(document), {"documentLoader": load})
    return dict(node)


def annotations(document: bytes) -> list[Any]:
    found: list[Any] = expanded(document)[f"{AS}first"][0][f"{AS}items"][0]["@list"]
    return found


def test_a_json_ld_processor_reads_every_mark_with_its_passage(case: Path, tmp_path: Path) -> None:
    document = exported(case, "web-annotation", tmp_path)
    found = annotations(document)
    assert expanded(document)[f"{AS}totalItems"] == [{"@value": 13}]
    assert len({one["@id"] for one in found}) == len(found) == 13
    for one in found:
        assert one["@type"] == [f"{OA}Annotation"]
        (target,) = one[f"{OA}hasTarget"]
        assert re.fullmatch("urn:sha256:[0-9a-f]{64}", target[f"{OA}hasSource"][0]["@id"])
        assert {body["@type"][0] for body in one[f"{OA}hasBody"]} == {f"{OA}TextualBody"}
    (selector,) = found[0][f"{OA}hasTarget"][0][f"{OA}hasSelector"]
    assert selector[f"{TERMS}conformsTo"] == [{"@id": "http://www.w3.org/TR/media-frags/"}]
    assert selector[f"{RDF}value"] == [{"@value": "t=4.8,7.2"}]
    untimed = [one for one in found if f"{OA}hasSelector" not in one[f"{OA}hasTarget"][0]]
    assert len(untimed) == 1


def test_a_mark_says_its_code_its_amount_and_its_clause(case: Path, tmp_path: Path) -> None:
    values = [
        body[f"{RDF}value"][0]["@value"]
        for one in annotations(exported(case, "web-annotation", tmp_path))
        for body in one[f"{OA}hasBody"]
    ]
    assert "Arms bent (arms-bent) 0.100, clause fault.arms-bent" in values
    assert {"pullover", "legs-apart", "springboard-left"} <= set(values)


def valid(value: str) -> bool:
    """Whether a fragment selects a time by the W3C's test cases: t=3,7 does; t=3,3 and t=7,3 do not."""
    found = re.fullmatch(r"t=([0-9]+(?:\.[0-9]+)?),([0-9]+(?:\.[0-9]+)?)", value)
    return found is not None and Fraction(found[1]) < Fraction(found[2])


@pytest.mark.parametrize(
    ("base", "start", "end", "said"),
    [
        (TimeBase(1, 30), 90, 210, "t=3,7"),
        (TimeBase(1, 1000), 1500, 1501, "t=1.5,1.501"),
        (TimeBase(1001, 30000), 30, 60, "t=1.001,2.002"),
        (TimeBase(1, 90000), 3001, 6002, "t=0.033344445,0.066688888"),
    ],
)
def test_a_fragment_is_exact_or_lies_within_its_passage(
    base: TimeBase, start: int, end: int, said: str
) -> None:
    footage = replace(THIRTIETHS, base=base)
    value = fragment(replace(CAST, start=start, end=end), footage)
    assert value == said
    assert valid(value)
    begin, ends = (Fraction(one) for one in value.removeprefix("t=").split(","))
    tick = Fraction(base.numerator, base.denominator)
    assert start * tick <= begin < ends <= end * tick
    assert begin - start * tick < Fraction(1, 10**9)


def test_seconds_count_from_the_first_picture() -> None:
    assert fragment(CAST, replace(THIRTIETHS, first=60)) == "t=1,5"


def test_a_webvtt_reader_finds_the_elements_as_chapters(case: Path, tmp_path: Path) -> None:
    read = cues(exported(case, "chapters", tmp_path))
    assert [one.text for one in read][:3] == ["Pullover", "Cast", "Back hip circle"]
    assert (read[0].identifier, read[0].start, read[0].end) == ("m1", "00:00:04.800", "00:00:07.200")
    assert len(read) == 9
    assert all(one.start_in_seconds <= one.end_in_seconds for one in read)


def test_faults_are_captions_that_stay_long_enough_to_be_read(case: Path, tmp_path: Path) -> None:
    read = cues(exported(case, "chapters", tmp_path, faults=True))
    assert [one.identifier for one in read] == ["m4", "m6", "m12"]
    assert (read[0].start, read[0].end) == ("00:00:09.600", "00:00:11.600")
    assert read[0].text == "Legs apart (legs-apart) 0.100, clause fault.legs-apart"


def test_hours_are_written_and_an_end_follows_its_beginning() -> None:
    late = replace(CAST, kind="element", start=30 * 3723, end=30 * 3723)
    (cue,) = cues(chapters([late], THIRTIETHS))
    assert (cue.start, cue.end) == ("01:02:03.000", "01:02:03.001")


def test_opentimelineio_reads_the_marks_as_markers_at_their_very_ticks(case: Path, tmp_path: Path) -> None:
    read = otio.adapters.read_from_string(exported(case, "timeline", tmp_path).decode(), "otio_json")
    (clip,) = read.find_clips()
    assert len(clip.markers) == 12
    with actions.open_case(case, author=None) as audit:
        mark = next(one for one in audit.marks if one.id == "m3")
        base = audit.cited().base
    marker = next(one for one in clip.markers if one.metadata["reviewer"]["id"] == "m3")
    begin = marker.marked_range.start_time
    on_screen = audit.cited().on_screen(mark.start or 0)[0]
    assert (begin.value, begin.rate) == (on_screen * base.numerator, base.denominator)
    assert clip.available_range().contains(marker.marked_range)
    assert clip.media_reference.target_url.startswith("urn:sha256:")


def test_a_rate_of_television_stays_exact() -> None:
    """A tick of 1001/30000 s: 90 ticks are 90090/30000 s, which no rate of 29.97 would give."""
    footage = replace(THIRTIETHS, base=TimeBase(1001, 30000))
    read = otio.adapters.read_from_string(timeline([CAST], footage).decode(), "otio_json")
    begin = read.find_clips()[0].markers[0].marked_range.start_time
    assert (begin.value, begin.rate) == (90090, 30000)


def rows(document: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(document.decode(), newline="")))


def test_a_csv_reader_finds_marks_lines_and_readings(case: Path, tmp_path: Path) -> None:
    marks = rows(exported(case, "csv", tmp_path))
    assert [one["id"] for one in marks][-2:] == ["m12", "m13"]
    assert (marks[3]["start_s"], marks[3]["amount"], marks[-1]["start_s"]) == ("9.6", "0.100", "")
    lines = rows(exported(case, "csv", tmp_path, of="lines"))
    with actions.open_case(case, author=None) as audit:
        score = actions.audit_score(audit)
        assert [one["points"] for one in lines] == [line["points"] for line in score["lines"]]
    readings = rows(exported(case, "csv", tmp_path, of="readings"))
    assert [one["id"] for one in readings] == [one.id for one in audit.readings]
    assert all(Points.parse(one["low95_deg"]) < Points.parse(one["value_deg"]) for one in readings)


def test_text_becomes_no_formula_and_numbers_stay_numbers() -> None:
    text = ("=1+1", "+1", "-1", "@a", "\t=1", "\r=1", " =1", "＝1", "a=1", "")
    (row,) = list(csv.reader(io.StringIO(table(text, [text]).decode(), newline="")))[1:]
    assert row == ["'=1+1", "'+1", "'-1", "'@a", "'=1", "'=1", "'=1", "'＝1", "a=1", ""]
    numbers = table(("points", "frame"), [(Points(-100), -3)]).decode()
    assert numbers == "points,frame\r\n-0.100,-3\r\n"


@hostile
def test_hostile_words_break_no_form(words: str) -> None:
    mark = replace(CAST, id=words, name=words, code=words, clauses=(words,))
    both = [mark, replace(mark, kind="element")]
    for written in (captions(both, THIRTIETHS), chapters(both, THIRTIETHS)):
        (cue,) = cues(written)
        assert cue.start == "00:00:03.000"
        assert not re.search("[<>]", cue.raw_text.replace("&lt;", "").replace("&gt;", ""))
        assert written.decode().count("-->") == 1
    read = otio.adapters.read_from_string(timeline([mark], THIRTIETHS).decode(), "otio_json")
    assert len(read.find_clips()[0].markers) == 1
    (one,) = annotations(web_annotations([mark], {DIGEST: THIRTIETHS}, "ef" * 32, words))
    value = one[f"{OA}hasBody"][0][f"{RDF}value"][0]["@value"]
    assert len(value) <= 300
    assert not re.search("[\x00-\x1f\u202a-\u202e]", value)
    (cells,) = list(csv.reader(io.StringIO(table("a", [(words,)]).decode(), newline="")))[1:]
    assert cells[0][0] not in "=+-@\t\r"


@pytest.mark.parametrize("form", actions.FORMS)
def test_the_same_case_gives_the_same_bytes_and_no_path_or_name(
    case: Path, tmp_path: Path, form: str
) -> None:
    first = exported(case, form, tmp_path)
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    assert exported(case, form, elsewhere) == first
    for said in (str(case.parent), CLIP.name, "G-07", "sample_clips"):
        assert said.encode() not in first


def test_a_recording_goes_by_the_name_it_is_given(case: Path, tmp_path: Path) -> None:
    document = exported(case, "web-annotation", tmp_path, name="bars final: 1.mp4")
    target = annotations(document)[0][f"{OA}hasTarget"][0]
    assert target[f"{OA}hasSource"][0]["@id"].endswith("bars%20final%3A%201.mp4")
    for name in ("/home/a.mp4", "..", "a\\b.mp4", " "):
        with pytest.raises(ReviewerError, match="bare file name"):
            exported(case, "timeline", tmp_path, name=name)


def test_judges_are_letters_whatever_they_are_called() -> None:
    assert letters(["B", "Miller", "judge-2", "A"]) == {"A": "A", "B": "B", "Miller": "C", "judge-2": "D"}
    assert id_outside("Miller.m3", {"Miller": "C"}) == "C.m3"
    assert id_outside("m3.1", {"Miller": "C"}) == "m3.1"
    many = letters([f"judge {number}" for number in range(60)])
    assert len(set(many.values())) == 60


def test_attempts_that_do_not_count_stay_out(tmp_path: Path) -> None:
    path, other = tmp_path / "again.case", ROOT / "sample_clips" / "off-axis-fall.mp4"
    with actions.start_case(path, author="A", athlete_code="G-1", consent="given", recording=CLIP) as audit:
        actions.place_mark(audit, kind="element", code="pullover", start=0, end=30000)
        actions.add_recording(audit, other, attempt=2)
        second = audit.state.recordings[1].sha256
        actions.place_mark(audit, kind="element", code="glide-kip", start=0, recording=second)
        out = tmp_path / "a.json"
        found = actions.export_case(audit, "web-annotation", out, today=TODAY)
        assert (found["marks"], found["left_out"]) == (1, ["m2"])
        assert b"glide-kip" not in out.read_bytes()
        actions.count_attempt(audit, 2)
    (one,) = annotations(exported(path, "web-annotation", tmp_path))
    assert one[f"{OA}hasTarget"][0][f"{OA}hasSource"][0]["@id"] == f"urn:sha256:{second}"
    assert [one["id"] for one in rows(exported(path, "csv", tmp_path))] == ["m2"]


def test_no_code_of_a_judge_leaves_after_a_merge(tmp_path: Path) -> None:
    for author in ("A", "judge-7"):
        with actions.start_case(
            tmp_path / f"{author}.case", author=author, athlete_code="G-1", consent="given", recording=CLIP
        ) as audit:
            actions.import_marks(audit, ROOT / "annotations" / "square-on.marks.json")
    merged = tmp_path / "merged.case"
    pair = tmp_path / "A.case", tmp_path / "judge-7.case"
    actions.merge_cases(*pair, merged, author="A", kept_apart=["judge-7.m3"])
    with actions.open_case(merged, author=None) as audit:
        assert "judge-7.m3" in {mark.id for mark in audit.marks}
    for form in actions.FORMS:
        assert b"judge-7" not in exported(merged, form, tmp_path)
    for of in actions.TABLES:
        assert b"judge-7" not in exported(merged, "csv", tmp_path, of=of)
    assert "B.m3" in {one["id"] for one in rows(exported(merged, "csv", tmp_path))}


def test_what_points_into_a_recording_needs_one(tmp_path: Path) -> None:
    path = tmp_path / "paper.case"
    with actions.start_case(path, author="A", athlete_code="G-1", consent="given") as audit:
        actions.place_mark(audit, kind="element", code="pullover", order=1)
    assert rows(exported(path, "csv", tmp_path))[0]["recording"] == ""
    for form in ("web-annotation", "chapters", "timeline"):
        with pytest.raises(ReviewerError, match="cites no recording"):
            exported(path, form, tmp_path)


def test_nothing_leaves_after_the_last_day_of_consent_nor_where_nobody_says_which_day_it_is(
    case: Path, tmp_path: Path
) -> None:
    copy = Path(shutil.copy(case, tmp_path))
    with actions.open_case(copy, author="A") as audit:
        actions.give_consent(audit, ["inquiry"], "2026-12-31", TODAY)
        out = tmp_path / "a.csv"
        actions.export_case(audit, "csv", out, today="2026-12-31")
        out.unlink()
        with pytest.raises(ReviewerError, match="ended with 2026-12-31"):
            actions.export_case(audit, "csv", out, today="2027-01-01")
        with pytest.raises(ReviewerError, match="Nobody says which day it is"):
            actions.write_report(audit, tmp_path / "report")
    assert not out.exists()
    assert not (tmp_path / "report").exists()


def test_no_case_is_begun_where_consent_was_withdrawn(tmp_path: Path) -> None:
    with pytest.raises(ReviewerError, match="was withdrawn"):
        actions.start_case(tmp_path / "a.case", author="A", athlete_code="G-1", consent="withdrawn")
    assert list(tmp_path.iterdir()) == []


def test_what_consent_does_not_cover_is_not_written(case: Path, tmp_path: Path) -> None:
    for use in ("teaching", "coach", "publicity"):
        for form in actions.FORMS:
            with pytest.raises(ReviewerError):
                exported(case, form, tmp_path, use=use)
    assert not (tmp_path / "exported").exists()
