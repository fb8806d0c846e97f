"""What a verification has checked so far, and what it found."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from reviewer.reports import Difference, shortened


@dataclass
class Review:
    """What was checked so far, and what was found."""

    checked: list[str] = field(default_factory=list)
    differences: list[Difference] = field(default_factory=list)
    not_checked: list[dict[str, str]] = field(default_factory=list)

    def step(self, what: str, found: Iterable[Difference]) -> bool:
        """Note a check and its differences; whether there were none."""
        differences = list(found)
        if what not in self.checked:
            self.checked.append(what)
        self.differences.extend(differences)
        return not differences

    def skip(self, what: str, why: str) -> None:
        """Note what could not be checked."""
        self.not_checked.append({"what": what, "why": shortened(why)[0]})

    def document(self) -> dict[str, Any]:
        """``reviewer.verify/1``."""
        return {
            "format": "reviewer.verify/1",
            "same": not self.differences,
            "checked": self.checked,
            "differences": [one.to_json() for one in self.differences],
            "not_checked": self.not_checked,
        }
