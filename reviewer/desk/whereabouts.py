"""Where marks lie, in words: frame and element, looked up once for all the rows of a sheet."""

from reviewer.desk.bench import Bench
from reviewer.desk.ledger import Place
from reviewer.terms.marks import Mark


class Whereabouts:
    """Says where each mark of the case on the desk lies, as the case was at the last `renew`."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._marks: dict[str, Mark] = {}
        self._known: dict[tuple[Mark, Mark | None], Place] = {}
        self._recordings: object = None

    def renew(self) -> None:
        """Look at the case again; a mark that stayed as it was keeps its place."""
        audit = self._bench.audit
        recordings = audit.state.recordings if audit is not None else None
        if recordings is not self._recordings and recordings != self._recordings:
            self._known.clear()
        self._recordings = recordings
        self._marks = {mark.id: mark for mark in self._bench.marks}

    def __call__(self, mark_id: str) -> Place:
        """The place of a mark; of what is no mark's id, the id."""
        mark = self._marks.get(mark_id)
        if mark is None:
            return Place(mark_id, mark_id)
        element = self._marks.get(mark.element or "")
        found = self._known.get((mark, element))
        if found is None:
            found = self._known[mark, element] = self._place(mark, element)
        return found

    def _place(self, mark: Mark, element: Mark | None) -> Place:
        frame, say = self._frame(mark), self._bench.say
        if element is not None:
            on, own = f"{element.code} {element.id}", f"{mark.code} {mark.id}"
            whole, code = say("{mark} on {element}", mark=own, element=on), element.code
        else:
            code = mark.code if mark.kind == "element" else ""
            whole = f"{mark.code} {mark.id}"
        return Place(_joined(" · ", frame, code) or mark.id, _joined(", ", whole, frame))

    def _frame(self, mark: Mark) -> str:
        pts, audit, say = mark.moment(), self._bench.audit, self._bench.say
        if pts is None or audit is None or not audit.state.recordings:
            return ""
        frame = say("frame {frame}", frame=audit.frame_at(pts, mark.recording))
        if len(audit.state.recordings) < 2:
            return frame
        return say("{frame} of recording {number}", frame=frame, number=audit.number_of(mark.recording))


def _joined(sign: str, *parts: str) -> str:
    return sign.join(part for part in parts if part)
