"""A whole evening of commands, and the desk, in a world without a network that counts every attempt at one.

Run by `test_no_network.py` inside a network namespace of its own (``unshare``), where nothing can be reached:
the kernel counts what any library, also one written in C, tried to send, and Python tells of its own sockets.
Prints what was tried as JSON.
"""

import json
import os
import shutil
import sys
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path
from typing import Any

CLICKS = {
    "format": "reviewer.clicks/1", "picture": [1280, 720], "frame": 250, "line": "shoulder-ankle",
    "body": {"shoulder": [["700", "300"]], "ankle": [["600", "380"]]}, "points": {},
}  # fmt: skip
SHEET = {
    "format": "reviewer.marks/1", "rule_book": "demo-bars-2",
    "marks": [{"id": "m1", "kind": "element", "code": "pullover", "roles": ["mount"], "order": 1}],
}  # fmt: skip
TABLE = "routine,judge,execution\n1,A,9.0\n1,B,8.9\n2,A,8.5\n2,B,8.6\n3,A,9.1\n3,B,9.2\n"
STARTS = "start,athlete,recording,final\n7,G-7,square-on.mp4,9.5\n"
FILM = "D/square-on.mp4"
FALL = Path(__file__).resolve().parents[2] / "sample_clips" / "off-axis-fall.mp4"
EVENING = f"""
demo -o D --no-window
frames {FILM}
still {FILM} 77 -o s.png
when {FILM} 77 1.285s
duration {FILM} 31 182 --limit 30
start a.case --recording {FILM} --athlete-code G-12 --consent given
consent a.case --for inquiry,teaching,coach --until 2099-01-01 --by parent
consent D/square-on.case --for inquiry,teaching,coach
marks import a.case sheet.json
note a.case grip --frame 7
recordings list a.case
score a.case
what-if D/square-on.case --amount m4=0.200
interpret a.case few-value-parts other
panel --judge A=9.4 --judge B=9.1
posted results.csv --rule-book international-bars
posted-sheet a.case --start-value 9.2 --judge A=9.0
compare D/square-on.case sheet.json
agreement scores.csv
measure {FILM} --points clicks.json
follow {FILM} --clicks clicks.json --span-ms 40 --case a.case
pool D/square-on.case r1 r1
inquiry file a.case --by coach --about "start value"
second a.case -o b.case --author B
seal a.case
seal b.case --author B --although-empty
settle begin a.case b.case -o c.case --author C
start f.case --recording fall.mp4 --athlete-code G-12 --consent given
consent f.case --for teaching
cover place f.case --frame 0 --at 304,431 --size 56,62
cover follow f.case
cover confirm f.case --frames 0-254
clip f.case --frames 0 5 -o clip.mp4
clip-set begin D/square-on.case --code legs-apart -o recipe.json
clip-set make recipe.json -o set
practice D/square-on.case -o practice.html --pass-phrase-file phrase.txt
coach D/square-on.case -o coach
export a.case --as chapters -o a.vtt
report a.case -o report
verify report
start e.case --recording {FILM} --athlete-code G-12 --consent given --author B
merge D/square-on.case e.case -o m.case --author C
pack a.case -o bag --recording {FILM}
key k.pem
sign bag --key k.pem
find D --element cast
meet size --of 240 --rarer-than 5
meet begin starts.csv -o meet --recordings D
meet index meet --consent given
meet triggers meet
meet choose meet --number 1 --seed evening
meet assign meet --auditors K
meet queue meet
marks import meet/cases/7.case sheet.json
meet figures meet
meet report meet -o meet-report
verify meet-report --meet meet
names set G-12 --name Mirabelle --file names.json --pass-phrase-file phrase.txt
expired D
rules check demo-bars-2
settings
keys next
short-codes
"""
"""One line a command; each command of the program stands here."""

Said = list[tuple[str, str]]


def listened(said: Said) -> Callable[[str, tuple[Any, ...]], None]:
    """Keeps every socket of Python's that is for a network: those of this machine's own files are not."""

    def hook(event: str, what: tuple[Any, ...]) -> None:
        if event in ("socket.getaddrinfo", "socket.gethostbyname", "socket.gethostbyaddr"):
            said.append((event, repr(what)))
        elif event in ("socket.connect", "socket.bind", "socket.sendto", "socket.sendmsg"):
            address = what[1] if len(what) > 1 else None
            if not isinstance(address, (str, bytes)):
                said.append((event, repr(what[1:])))

    return hook


def sent() -> dict[str, int]:
    """What the kernel counted of this namespace since it was made."""
    rows = [line.split() for line in Path("/proc/net/snmp").read_text().splitlines()]
    table = {
        f"{names[0]}{name}": int(count)
        for names, counts in zip(rows[::2], rows[1::2], strict=True)
        for name, count in zip(names[1:], counts[1:], strict=True)
    }
    six = dict(line.split() for line in Path("/proc/net/snmp6").read_text().splitlines())
    wanted = ("Ip:OutRequests", "Ip:OutNoRoutes", "Tcp:ActiveOpens", "Udp:OutDatagrams")
    found = {name: table[name] for name in wanted}
    return found | {name: int(six.get(name, 0)) for name in ("Ip6OutRequests", "Ip6OutNoRoutes")}


def commands(codes: dict[str, int]) -> None:
    """Run the evening; the best exit code of each command by its name."""
    import shlex

    from reviewer import cli

    for name, content in (("clicks", CLICKS), ("sheet", SHEET)):
        Path(f"{name}.json").write_text(json.dumps(content))
    shutil.copy(FALL, "fall.mp4")
    Path("scores.csv").write_text(TABLE)
    Path("starts.csv").write_text(STARTS)
    Path("results.csv").write_text("difficulty,execution,penalty,total\n5.400,8.100,,13.500\n")
    Path("phrase.txt").write_text("beam, bars and a blue mat\n")
    for line in filter(None, EVENING.splitlines()):
        words, out = shlex.split(line), StringIO()
        sys.argv = ["reviewer", *words]
        with redirect_stdout(out), redirect_stderr(out):
            code = cli.run(lambda *_: 0)
        codes[words[0]] = min(code, codes.get(words[0], 9))
        if code == 2:
            print(f"{line}: {out.getvalue().strip()[-300:]}", file=sys.stderr)


def desk() -> None:
    """The window on a case: opened, played, a mark called, covers begun, closed."""
    from PyQt6.QtCore import Qt
    from PyQt6.QtTest import QTest

    from reviewer.desk.application import dressed_application
    from reviewer.desk.window import DeskWindow

    application = dressed_application()
    window = DeskWindow("A")
    window.show()
    QTest.qWaitForWindowActive(window, 3000)
    window.open_case(Path("D/square-on.case"), None)
    for key, held in (
        (Qt.Key.Key_Space, Qt.KeyboardModifier.NoModifier),
        (Qt.Key.Key_P, Qt.KeyboardModifier.NoModifier),
        (Qt.Key.Key_H, Qt.KeyboardModifier.ControlModifier),
        (Qt.Key.Key_F1, Qt.KeyboardModifier.NoModifier),
    ):
        QTest.qWait(700)
        QTest.keyClick(window, key, held)
    QTest.qWait(700)
    assert window.bench.picture is not None
    window.close()
    application.processEvents()


def main() -> None:
    """Do what the first word says in the folder of the second one; tell what was tried of the network."""
    does, folder = sys.argv[1], Path(sys.argv[2])
    os.chdir(folder)
    said: Said = []
    codes: dict[str, int] = {}
    sys.addaudithook(listened(said))
    if does == "commands":
        commands(codes)
    elif does == "desk":
        desk()
    else:
        import socket

        with socket.socket() as one:
            one.settimeout(1)
            try:
                one.connect(("192.0.2.1", 80))  # TEST-NET-1 of RFC 5737: nobody's address
            except OSError:
                codes["tried"] = 1
    print(json.dumps({"codes": codes, "python": said, "kernel": sent()}))


if __name__ == "__main__":
    main()
