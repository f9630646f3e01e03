"""A subscription in the desktop's calendar store, read through the library its programs use.

Run by the system's own Python, which has the store's bindings, inside a D-Bus session of its own.
Each line on standard input is answered by one line on standard output: `refresh` fetches, `list`
gives all entries now in the store as JSON.
"""

import json
import sys

import gi

gi.require_version("ECal", "2.0")
gi.require_version("EDataServer", "1.2")
from gi.repository import ECal, EDataServer  # noqa: E402 - the versions must be told before

SECONDS_TO_CONNECT = 30
EVERYTHING = "#t"


def main(subscription: str) -> None:
    """Answer until the input ends."""
    registry = EDataServer.SourceRegistry.new_sync(None)
    client = ECal.Client.connect_sync(
        registry.ref_source(subscription), ECal.ClientSourceType.EVENTS, SECONDS_TO_CONNECT, None
    )
    for line in sys.stdin:
        if line.strip() == "refresh":
            answer: object = client.refresh_sync(None)
        else:
            _, entries = client.get_object_list_sync(EVERYTHING, None)
            answer = [
                (
                    each.get_uid(),
                    each.get_dtstart().as_ical_string(),
                    each.get_dtend().as_ical_string(),
                    each.get_summary(),
                )
                for each in entries
            ]
        print(json.dumps(answer), flush=True)


if __name__ == "__main__":
    main(sys.argv[1])
