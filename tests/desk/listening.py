"""What another program hears of the desk over AT-SPI, as screen readers do; printed as one JSON document.

``dbus-run-session -- python -m tests.desk.listening``: the desk runs as a process of its own with the demo
case and the routine as a table.
"""

import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from typing import Any

from jeepney import DBusAddress, Properties, new_method_call
from jeepney.io.blocking import DBusConnection, open_dbus_connection

ACCESSIBLE, TABLE = "org.a11y.atspi.Accessible", "org.a11y.atspi.Table"
ROOT = ("org.a11y.atspi.Registry", "/org/a11y/atspi/accessible/root")
PATIENCE_S = 40
Place = tuple[str, str]


class Listener:
    """One connection to the bus that accessible programs answer on."""

    def __init__(self) -> None:
        asked = DBusAddress("/org/a11y/bus", "org.a11y.Bus", "org.a11y.Bus")
        with open_dbus_connection("SESSION") as session:
            address = session.send_and_get_reply(new_method_call(asked, "GetAddress")).body[0]
        self._bus: DBusConnection = open_dbus_connection(address)

    def asked(self, place: Place, method: str, signature: str | None = None, *body: Any) -> Any:
        """What a thing answers; None where it does not."""
        interface = TABLE if method in ("GetAccessibleAt", "GetColumnDescription") else ACCESSIBLE
        call = new_method_call(DBusAddress(place[1], place[0], interface), method, signature, body)
        answer = self._bus.send_and_get_reply(call, timeout=PATIENCE_S)
        return answer.body[0] if answer.header.message_type.name == "method_return" else None

    def property_of(self, place: Place, name: str, interface: str = ACCESSIBLE) -> Any:
        """One property; None where there is none."""
        call = Properties(DBusAddress(place[1], place[0], interface)).get(name)
        answer = self._bus.send_and_get_reply(call, timeout=PATIENCE_S)
        return answer.body[0][1] if answer.header.message_type.name == "method_return" else None

    def told(self, place: Place) -> dict[str, Any]:
        """Name, description and role."""
        return {
            "name": self.property_of(place, "Name"),
            "description": self.property_of(place, "Description"),
            "role": self.asked(place, "GetRoleName"),
        }

    def below(self, place: Place) -> Iterator[tuple[Place, dict[str, Any]]]:
        """All that is in a thing, but for the cells of tables."""
        for child in self.asked(place, "GetChildren") or ():
            said = self.told(child)
            yield child, said
            if said["role"] != "table":
                yield from self.below(child)

    def rows(self, place: Place) -> list[list[str]]:
        """The cells of a table."""
        down, across = (self.property_of(place, name, TABLE) or 0 for name in ("NRows", "NColumns"))
        return [
            [
                self.property_of(self.asked(place, "GetAccessibleAt", "ii", row, column), "Name")
                for column in range(across)
            ]
            for row in range(down)
        ]


def heard() -> dict[str, Any]:
    """The tree once the score and a picture stand on the desk."""
    listener, end = Listener(), time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        things = list(listener.below(ROOT))
        told = [one["description"] for _, one in things if one["name"] in ("Final score", "Frame on screen")]
        if "Final score 9.650" in told and any(words.startswith("Frame ") for words in told):
            tables = {one["name"]: listener.rows(place) for place, one in things if one["role"] == "table"}
            return {"things": [one for _, one in things], "tables": tables}
        time.sleep(0.3)
    raise SystemExit("the desk never told its score and its picture")


def show() -> None:
    """Run the desk until the process is ended."""
    from PyQt6.QtCore import QTimer

    from reviewer import actions
    from reviewer.desk.application import dressed_application
    from reviewer.desk.window import DeskWindow

    application = dressed_application()
    window = DeskWindow("A")
    window.show()
    window.open_case(actions.fresh_demo(), None)
    QTimer.singleShot(0, window.routine.doings()["as-table"])
    application.exec()


if __name__ == "__main__":
    desk = subprocess.Popen(
        [sys.executable, "-c", "from tests.desk.listening import show; show()"],
        env={**os.environ, "QT_LINUX_ACCESSIBILITY_ALWAYS_ON": "1"},
    )
    try:
        print(json.dumps(heard()))
    finally:
        desk.terminate()
        desk.wait()
