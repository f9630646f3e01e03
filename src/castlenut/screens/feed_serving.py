"""The feed server of the screens: begun and ended by a key, beside them in threads of its own."""

from castlenut.garage.feeds.addresses import PORT
from castlenut.garage.feeds.network import own_address
from castlenut.garage.feeds.server import EVERYWHERE, Place, Server
from castlenut.garage.feeds.shelf import Shelf
from castlenut.garage.garage import Garage, open_garage
from castlenut.screens.report import Report


class FeedServing:
    """A server for the phones in this network. It reads the garage by itself: none waits for it."""

    def __init__(self, garage: Garage, report: Report | None, *, port: int = PORT) -> None:
        """Begin to serve.

        Raises:
            BadInput: the garage cannot be read.
            NotServed: the port is in use or may not be used.
        """
        surroundings = garage.surroundings
        self._faults: list[str] = []
        shelf = Shelf(
            open_garage(garage.path, surroundings),
            today=lambda: garage.today_date,
            log=self._faults.append,
            unforeseen=report or _nowhere,
        )
        self.host = own_address()
        self._server = Server(
            shelf, Place(host=EVERYWHERE, port=port), now=surroundings.now, log=_not_kept
        )
        self.port = port
        self._server.start()

    @property
    def last_fault(self) -> str | None:
        """Give what last went wrong with a feed."""
        return self._faults[-1] if self._faults else None

    def end(self) -> None:
        """End it; phones keep what they have."""
        self._server.close()


class ServingSwitch:
    """Holds the server of the program while it serves: the feed screen comes and goes."""

    def __init__(self, garage: Garage, report: Report | None) -> None:
        self._garage = garage
        self._report = report
        self.now: FeedServing | None = None
        """The server, while it serves."""

    def turn(self) -> bool:
        """Begin to serve the feeds, or end it; tell whether they are served now.

        Raises:
            BadInput: the garage cannot be read.
            NotServed: the port is in use or may not be used.
        """
        if self.now is None:
            self.now = FeedServing(self._garage, self._report)
        else:
            self.end()
        return self.now is not None

    def end(self) -> None:
        """End the server, if it serves."""
        if self.now is not None:
            self.now.end()
            self.now = None


def _not_kept(_line: str) -> None:
    """Leave out the lines of the log: the screens have no place for them."""


def _nowhere(error: Exception) -> str:
    return f"no file ({type(error).__name__})"
