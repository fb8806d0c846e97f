"""What is known of one recording once it was read from its first frame to its last."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from reviewer.terms.problems import Problem


@dataclass(frozen=True, slots=True)
class Indexed:
    """A recording that was read, or why it could not be.

    Attributes:
        sha256: fingerprint of the file's bytes; empty where they could not be read.
        cited: how an event of a case cites it; empty where it is no recording that can be cited.
        pictures: whether small pictures of every frame were made, or found made.
        problem: what is wrong with it.
    """

    sha256: str = ""
    cited: Mapping[str, Any] = field(default_factory=dict)
    pictures: bool = False
    problem: Problem | None = None

    @property
    def frames(self) -> int:
        """How many it holds; 0 where it cannot be cited."""
        return int(self.cited.get("frames", 0))
