"""The feeds over HTTP, against the really started server; the garage is invented."""

import contextlib
import re
import shutil
import signal
import socket
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Event
from time import monotonic

import icalendar
import pytest

from tests.faces.installed import Bench, bench
from tests.faces.serving import (
    HAS_PROC,
    Served,
    begin,
    free_port,
    memory_kb,
    serving,
    target_of,
)
from tests.feed.raw import assert_sound

TODAY = "2026-11-25"


@pytest.fixture(scope="module")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make a garage of two invented cars, of which one owner's number is known."""
    at = bench(tmp_path_factory.mktemp("made"))
    for words in (
        ("add", "fallow", "--description", "Fallow wagon", "--owner", "Odile Marrowby"),
        ("add", "quay", "--description", "Quay van", "--owner", "Tobin Wrackett"),
        ("reading", "fallow", "41200", "--on", "2026-11-01"),
        ("reading", "quay", "88100", "--on", "2026-11-02"),
        ("fit", "fallow", "brake fluid", "--on", "2025-06-01", "--at", "40000"),
        ("fit", "quay", "brake fluid", "--on", "2026-03-01", "--at", "87000"),
        ("settings", "name=Penmarrow Garage"),
    ):
        done = at(TODAY, *words)
        assert done.code == 0, done.err
    assert at(TODAY, "feed", "address").code == 0
    return at.garage


@pytest.fixture
def shop(made_once: Path, tmp_path: Path) -> Bench:
    """Give a copy of the garage that may be changed."""
    at = bench(tmp_path)
    shutil.copytree(made_once, at.garage)
    return at


@pytest.fixture(scope="module")
def server(made_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """Give a server of the garage, for the tests that change nothing."""
    at = bench(tmp_path_factory.mktemp("served"))
    shutil.copytree(made_once, at.garage)
    with serving(at, TODAY) as served:
        yield served


@pytest.fixture(scope="module")
def target(made_once: Path, tmp_path_factory: pytest.TempPathFactory) -> str:
    return target_of(Bench(made_once, tmp_path_factory.mktemp("home")), TODAY)


def summaries(data: bytes) -> list[str]:
    calendar = icalendar.Calendar.from_ical(data)
    return sorted(str(event["SUMMARY"]) for event in calendar.walk("VEVENT"))


def test_what_is_served_is_what_is_written(server: Served, target: str, shop: Bench) -> None:
    shop(TODAY, "feed", "write", str(shop.home / "garage.ics"))

    served = server.ask(target)

    assert served.status == 200
    assert_sound(served.body)
    assert summaries(served.body) == summaries((shop.home / "garage.ics").read_bytes())
    assert "server" not in served.headers


def test_the_feeds_of_a_car_and_an_owner_have_addresses_of_their_own(
    server: Served, shop: Bench
) -> None:
    car = target_of(shop, TODAY, "--vehicle", "fallow")
    owner = target_of(shop, TODAY, "--owner", "Tobin")

    of_car, of_owner = server.ask(car), server.ask(owner)

    assert car.endswith("/vehicle.ics")
    assert owner.endswith("/owner.ics")
    assert all(each.startswith("Fallow") for each in summaries(of_car.body))
    assert not any("Fallow" in each for each in summaries(of_owner.body))
    assert b"Wrackett" not in of_owner.body


def test_a_client_that_holds_the_bytes_gets_none(server: Served, target: str) -> None:
    first = server.ask(target)

    again = server.ask(target, headers={"If-None-Match": first.headers["etag"]})

    assert (again.status, again.body) == (304, b"")
    assert again.headers["etag"] == first.headers["etag"]


@pytest.mark.parametrize("coding", ["gzip, deflate, br", "identity;q=0, *"])
def test_no_coding_but_identity_is_ever_used(server: Served, target: str, coding: str) -> None:
    found = server.ask(target, headers={"Accept-Encoding": coding})

    assert "content-encoding" not in found.headers
    assert found.body.startswith(b"BEGIN:VCALENDAR")


@pytest.mark.parametrize("method", ["PUT", "PROPFIND", "OPTIONS", "TRACE", "BREW"])
def test_other_methods_are_refused(server: Served, target: str, method: str) -> None:
    found = server.ask(target, method, headers={"If-Match": '"x"'})

    assert found.status == 405
    assert found.headers["allow"] == "GET, HEAD"


def wrong_targets(target: str) -> list[str]:
    token = target.split("/")[1]
    digits = "0123456789abcdef"
    return [
        *("/", "/x", "*", "//etc/passwd", "/../etc/passwd", "/%2e%2e/etc/passwd", "/garage.json"),
        *(f"/{token}", f"/{token}/", f"/{token}/owner.ics", f"/{token}/garage.ics?x=1"),
        *(f"/{token.upper()}/garage.ics", f"/{token[1:]}/garage.ics", f"/{token}0/garage.ics"),
        *(f"/%{ord(token[0]):x}{token[1:]}/garage.ics", f"http://127.0.0.1{target}"),
        *(f"/{digit * 32}/garage.ics" for digit in digits),
    ]


def test_every_wrong_target_gets_the_same_bytes(server: Served, target: str) -> None:
    wrong = wrong_targets(target)
    assert len(wrong) >= 30

    answers = {
        re.sub(
            rb"Date: [^\r]*\r\n",
            b"",
            server.raw(f"GET {each} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n".encode()),
        )
        for each in wrong
    }

    (only,) = answers
    assert only.startswith(b"HTTP/1.1 404 Not Found\r\n")
    assert only.endswith(b"\r\n\r\nNot found.")


@pytest.mark.parametrize(
    ("head", "refusal"),
    [
        ("X-Long: " + "a" * 17_000, "431"),
        ("Content-Length: 1000000000", "413"),
    ],
    ids=["headers", "body"],
)
def test_what_is_too_large_is_refused_unread(
    server: Served, target: str, head: str, refusal: str
) -> None:
    answer = server.raw(f"PUT {target} HTTP/1.1\r\nHost: x\r\n{head}\r\n\r\n".encode())

    assert re.match(rf"HTTP/1\.[01] {refusal} ".encode(), answer)
    assert server.ask(target).status == 200


def test_an_answer_comes_at_once_beside_a_hundred_half_sent_requests(
    server: Served, target: str
) -> None:
    with contextlib.ExitStack() as links:
        for _ in range(100):
            link = links.enter_context(socket.create_connection(("127.0.0.1", server.port)))
            link.sendall(f"GET {target} HTTP/1.1\r\nHost: x\r\n".encode())
        began = monotonic()

        found = server.ask(target)

        assert found.status == 200
        assert monotonic() - began < 5  # a limit of the contract, not a measure of speed


def test_the_log_tells_no_target_no_token_and_no_program(server: Served, target: str) -> None:
    server.ask(target, headers={"User-Agent": "Nosy/1.0"})
    server.ask("/a-secret-guess", headers={"User-Agent": "Nosy/1.0"})

    log = server.log.read_text(encoding="utf-8")

    assert re.search(r"^\S+ 127\.0\.0\.1 GET 200 garage \d+$", log, re.MULTILINE)
    assert re.search(r"^\S+ 127\.0\.0\.1 GET 404 unknown 10$", log, re.MULTILINE)
    assert target.split("/")[1] not in log
    assert "guess" not in log
    assert "Nosy" not in log


def test_a_change_from_outside_is_served_at_once(shop: Bench) -> None:
    target = target_of(shop, TODAY)
    with serving(shop, TODAY) as served:
        before = served.ask(target)
        assert shop(TODAY, "done", "fallow", "brake-fluid").code == 0

        after = served.ask(target, headers={"If-None-Match": before.headers["etag"]})

        assert after.status == 200
        assert summaries(after.body) != summaries(before.body)
        assert len(summaries(after.body)) == len(set(uids(after.body)))


def uids(data: bytes) -> list[str]:
    return re.findall(r"^UID:(\S+)\r?$", data.decode(), re.MULTILINE)


def test_a_damaged_car_keeps_its_events_and_the_fault_is_logged(shop: Bench) -> None:
    garage, car = target_of(shop, TODAY), target_of(shop, TODAY, "--vehicle", "fallow")
    with serving(shop, TODAY) as served:
        before = served.ask(garage), served.ask(car)
        (shop.garage / "vehicles" / "fallow.json").write_bytes(b"{ half a fi")

        after = served.ask(garage), served.ask(car)

        assert [each.body for each in after] == [each.body for each in before]
        assert "fallow.json: damaged" in served.log.read_text(encoding="utf-8")
        assert served.log.read_text(encoding="utf-8").count("fallow.json: damaged") == 1


def test_a_car_that_is_damaged_when_the_server_starts_is_still_answered(shop: Bench) -> None:
    car = target_of(shop, TODAY, "--vehicle", "fallow")
    shop(TODAY, "feed", "write", str(shop.home / "x.ics"), "--vehicle", "fallow")
    before = uids((shop.home / "x.ics").read_bytes())
    (shop.garage / "vehicles" / "fallow.json").write_bytes(b"{ half a fi")

    with serving(shop, TODAY) as served:
        found = served.ask(car)

    assert found.status == 200
    assert uids(found.body) == before


def test_an_address_that_was_ended_is_as_unknown_as_any(shop: Bench) -> None:
    garage, car = target_of(shop, TODAY), target_of(shop, TODAY, "--vehicle", "fallow")
    with serving(shop, TODAY) as served:
        assert served.ask(car).status == 200
        assert shop(TODAY, "feed", "revoke", "--vehicle", "fallow").code == 0

        ended, other = served.ask(car), served.ask(garage)
        new = served.ask(target_of(shop, TODAY, "--vehicle", "fallow"))

    assert (ended.status, ended.body) == (404, b"Not found.")
    assert other.status == 200
    assert new.status == 200


def test_ending_all_addresses_ends_each(shop: Bench) -> None:
    old = [target_of(shop, TODAY), target_of(shop, TODAY, "--owner", "Odile")]
    with serving(shop, TODAY) as served:
        assert shop(TODAY, "feed", "revoke").code == 0

        assert [served.ask(each).status for each in old] == [404, 404]
        assert served.ask(target_of(shop, TODAY)).status == 200


@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGTERM])
def test_it_ends_cleanly_when_told_to(shop: Bench, how: signal.Signals) -> None:
    with serving(shop, TODAY) as served:
        served.ask(target_of(shop, TODAY))

        code = served.end(how)

        assert code == 0
        assert "Traceback" not in served.log.read_text(encoding="utf-8")


def test_a_port_in_use_is_said_and_no_other_taken(shop: Bench) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", free_port()))
        taken.listen()
        port = taken.getsockname()[1]

        process = begin(shop, TODAY, port)
        out, _ = process.communicate(timeout=60)

    told = (shop.home / "serve.log").read_text(encoding="utf-8")
    assert (process.returncode, out) == (3, b"")
    assert told == (
        f"castlenut: Port {port} is in use. Stop the other program, or choose --port;"
        " subscribers then need the new address.\n"
    )


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        (("--port", "0"), 2, '--port: "0" is no port; give a number from 1 to 65535'),
        (("--port", "65536"), 2, '--port: "65536" is no port; give a number from 1 to 65535'),
        (("--host", "203.0.113.9"), 3, "203.0.113.9 is no address of this machine."),
        (("--host", "no such host"), 3, "no such host is no address of this machine."),
    ],
)
def test_a_place_where_it_cannot_listen_is_said(
    shop: Bench, words: tuple[str, ...], code: int, told: str
) -> None:
    done = shop(TODAY, "feed", "serve", *words)

    assert done.code == code
    assert told in done.err


@pytest.mark.long
@pytest.mark.skipif(not HAS_PROC, reason="memory is read from /proc")
def test_twenty_clients_and_a_stalled_one_are_answered_for_twenty_seconds(
    server: Served, target: str
) -> None:
    """20 clients poll for 20 s, with and without validator; one never reads. Memory stays flat."""
    first = server.ask(target)
    over = Event()

    def poll(number: int) -> int:
        headers = {"If-None-Match": first.headers["etag"]} if number % 2 else {}
        asked = 0
        while not over.is_set():
            found = server.ask(target, headers=headers)
            assert found.status == (304 if number % 2 else 200)
            assert found.body == (b"" if number % 2 else first.body)
            asked += 1
        return asked

    with (
        socket.create_connection(("127.0.0.1", server.port)) as stalled,
        ThreadPoolExecutor(20) as pool,
    ):
        stalled.sendall(f"GET {target} HTTP/1.1\r\nHost: x\r\n\r\n".encode() * 50)
        polls = [pool.submit(poll, number) for number in range(20)]
        over.wait(5)
        early = memory_kb(server.process.pid)
        over.wait(15)
        late = memory_kb(server.process.pid)
        over.set()

        assert all(each.result() > 0 for each in polls)
        assert late - early < 8_000
