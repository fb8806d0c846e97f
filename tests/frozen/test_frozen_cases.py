"""Frozen cases are the files that were frozen, byte for byte, and their chains are whole to the end."""

from hashlib import sha256
from pathlib import Path

import pytest

from reviewer.casefile import check_chain, read_events

FROZEN = (
    ("clip.v1.case",
     "ab7dcffcf3b48465503ee2dfb44803428053885657d5b680d68724aad26cdedb",
     "954600e529ad0fbc958ebe2b4349dd8166769d11e73faea3d7a80f59809a2ad7"),
    ("covers.v1.case",
     "621eec3cdbd992f3a1c5deff010111537d61c76586814ab7f0e5a724efe9b806",
     "371bb349c51f292eb7bef5231b5660dff28ab72866d6d7955e61d353c37eee67"),
    ("merged.v1.case",
     "24253a0e1527196ca82c11e88356c3a0b7fcea91a09ae6c349897f006b1bc0ef",
     "6f7bb0092299cce57b5ffebd19427417e8b08b45c14d87c31e0b3c4c0600bcf7"),
    ("merged.v2.case",
     "3504f345280757a5d540e55de811ebbb001bfa6def99bf546f67b0d18b47598d",
     "dc65ace8e6ce889e6ffbb14c4c561c04686f1f77c902269c3e471ad31780d93a"),
    ("posted.v1.case",
     "ab02d6a3e8295a6bedf4dbd60222c1eab8f04b0d83b780cf228033455f152649",
     "7bfd506b270179dfe069b8a627f9972b1759e6a7b25088ac39383f1245022ca5"),
    ("settled.v1.case",
     "74c89a7ba0ac275620c71a099e2de75216665d0dbe7f683a184f2056cdf483df",
     "6a34728032f8db83cd07410e4cc6ea451ffa87f133b7e734d51dc5b72c65b4a1"),
    ("tracks.v1.case",
     "621d60677afc2fe63335117113ce76a05d67ea6d15b6f12c236ef2e642af5e00",
     "5a13388755e9baa8e4650e84bbcdc860ec1eebcd19645e21de587a0f57c427df"),
)  # fmt: skip
"""Each file with its SHA-256 and the hash of its last event."""


@pytest.mark.parametrize(("name", "digest", "last"), FROZEN, ids=[name for name, _, _ in FROZEN])
def test_a_frozen_case_is_the_one_that_was_frozen(name: str, digest: str, last: str) -> None:
    case = Path(__file__).parent / name
    assert sha256(case.read_bytes()).hexdigest() == digest
    events = read_events(case)
    assert check_chain(events) == ()
    assert events[-1].hash == last
