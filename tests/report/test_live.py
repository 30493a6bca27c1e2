"""The live page's server."""

from __future__ import annotations

import hashlib
import http.client
import json
import re
import shutil
import signal
import subprocess
import sys
import threading

import pytest
from report_subjects import LAYOUTS

from plumbing import api
from plumbing.errors import LayoutError, UsageError
from plumbing.report.live import Live


@pytest.fixture
def file(tmp_path):
    """A layout file that may be changed."""
    return shutil.copy(LAYOUTS / "single-main.yaml", tmp_path / "mine.yaml")


@pytest.fixture
def live(file):
    """A live page that looks at its file when told to."""
    with Live(str(file)) as served:
        yield served


@pytest.fixture(scope="module")
def still():
    """A live page of a file that does not change."""
    with Live(str(LAYOUTS / "single-main.yaml")) as served:
        yield served


def get(live, path="/", method="GET", **headers):
    """Status and body of an answer."""
    connection = http.client.HTTPConnection("127.0.0.1", live.port, timeout=20)
    names = {name.replace("_", "-"): value for name, value in headers.items()}
    connection.request(method, path, headers=names)
    answer = connection.getresponse()
    body = answer.read()
    connection.close()
    return answer.status, body


def next_event(stream):
    """Name and data of the next event of a stream."""
    name = data = ""
    while True:
        row = stream.readline().decode().strip()
        if row.startswith("event:"):
            name = row[6:].strip()
        if row.startswith("data:"):
            data = row[5:].strip()
        if not row and name:
            return name, json.loads(data)


def test_it_listens_on_this_computer_only(still):
    """The server is bound to the loopback address and serves the page there."""
    assert still.address.startswith("http://127.0.0.1:")
    status, body = get(still)
    assert status == 200
    assert b"<h1>" in body


@pytest.mark.parametrize(
    "headers",
    [
        {"Host": "example.org"},
        {"Host": "127.0.0.1"},
        {"Origin": "http://example.org"},
        {"Origin": "null"},
        {"Sec_Fetch_Site": "cross-site"},
    ],
)
def test_other_names_and_other_sites_are_refused(still, headers):
    """A request under another host name, or from another site, gets nothing."""
    for path in ("/", "/events"):
        status, body = get(still, path, **headers)
        assert status == 403
        assert b"<h1>" not in body


def test_the_page_s_own_requests_are_served(still):
    """The page may ask for itself."""
    own = f"http://127.0.0.1:{still.port}"
    assert get(still, Origin=own, Sec_Fetch_Site="same-origin")[0] == 200


@pytest.mark.parametrize("path", ["/mine.yaml", "/../mine.yaml", "/%2e%2e/mine.yaml", "/?x"])
def test_nothing_else_is_served(still, path):
    """No file can be had from the server."""
    assert get(still, path)[0] == 404


@pytest.mark.parametrize("method", ["PUT", "DELETE", "OPTIONS"])
def test_nothing_else_can_be_sent(still, method):
    """The server answers no other method that changes anything."""
    assert get(still, method=method)[0] == 501


def test_a_saved_file_renews_the_page(live, file):
    """After the file is saved the page shows it."""
    file.write_text(file.read_text().replace("title: ", "title: Renewed "))
    assert live.watched.look()
    assert b"Renewed" in get(live)[1]
    assert not live.watched.look()


def test_a_broken_file_keeps_the_last_good_page(live, file):
    """Faults are sent with their places and the page stays; a mended file renews it."""
    good, before = file.read_text(), get(live)[1]
    connection = http.client.HTTPConnection("127.0.0.1", live.port, timeout=20)
    connection.request("GET", "/events")
    stream = connection.getresponse()
    assert next_event(stream)[0] == "report"
    file.write_text(good.replace("format: 2", "format: none at all"))
    live.watched.look()
    names = [next_event(stream), next_event(stream)]
    assert [name for name, _ in names] == ["working", "faults"]
    assert names[1][1]["faults"][0]["line"] == 1 + good[: good.index("format: 2")].count("\n")
    assert get(live)[1] == before
    file.write_text(good + "\n")
    live.watched.look()
    assert [next_event(stream)[0], next_event(stream)[0]] == ["working", "report"]
    connection.close()


def test_a_file_broken_from_the_start_shows_its_faults(tmp_path):
    """A page of faults stands in until there is a good one."""
    path = tmp_path / "new.yaml"
    path.write_text("format: 2\ntitle: <b>x</b>\n")
    with Live(str(path)) as live:
        status, body = get(live)
    assert status == 200
    assert b"nothing was computed" in body


def test_a_file_that_vanishes_is_waited_for(live, file):
    """While the file is away the page stays and says so; back again, it renews the page."""
    good, before = file.read_text(), get(live)[1]
    file.unlink()
    assert live.watched.look()
    assert live.watched.news.event == "faults"
    assert "no such file" in live.watched.news.data
    assert get(live)[1] == before
    assert not live.watched.look()
    file.write_text(good.replace("title: ", "title: Returned "))
    assert live.watched.look()
    assert live.watched.news.event == "report"
    assert b"Returned" in get(live)[1]


@pytest.mark.parametrize("name", ["none.yaml", "folder", "round.yaml"])
def test_what_cannot_be_read_is_refused(tmp_path, name):
    """A missing file, a folder and a link that leads nowhere are faults at the start."""
    (tmp_path / "folder").mkdir()
    (tmp_path / "round.yaml").symlink_to("round.yaml")
    with pytest.raises(LayoutError, match=name):
        Live(str(tmp_path / name))


def test_the_command_ends_where_nothing_can_be_read(tmp_path):
    """`plumbing live` of a missing file says what every command says of it, and ends with 2."""
    command = [sys.executable, "-m", "plumbing", "{}", str(tmp_path / "none.yaml")]
    live, check = (
        subprocess.run(
            [word.format(name) for word in command], capture_output=True, text=True, timeout=60
        )
        for name in ("live", "check")
    )
    assert live.returncode == 2
    assert "none.yaml" in live.stderr
    assert live.stderr == check.stderr


def test_it_stops_at_once(file):
    """Leaving ends the looking and every open stream."""
    with Live(str(file)) as live:
        looking = threading.Thread(target=live.run, daemon=True)
        looking.start()
        connection = http.client.HTTPConnection("127.0.0.1", live.port, timeout=5)
        connection.request("GET", "/events")
        stream = connection.getresponse()
        next_event(stream)
    rest = stream.read()
    looking.join(5)
    assert not looking.is_alive()
    assert b"event" not in rest
    connection.close()


def test_a_taken_port_is_said(file):
    """A port in use is an error in words."""
    with Live(str(file)) as live, pytest.raises(UsageError, match=str(live.port)):
        Live(str(file), live.port)


def test_the_command_stops_cleanly(tmp_path):
    """`plumbing live` says its address, serves there, and ends with 0 on an interrupt."""
    command = [sys.executable, "-m", "plumbing", "live", str(LAYOUTS / "single-main.yaml")]
    run = subprocess.Popen([*command, "--no-open"], stderr=subprocess.PIPE, text=True)
    try:
        said = run.stderr.readline()
        port = int(re.search(r"http://127\.0\.0\.1:(\d+)/", said)[1])
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
        connection.request("GET", "/")
        assert connection.getresponse().status == 200
        run.send_signal(signal.SIGINT)
        assert run.wait(timeout=30) == 0
        assert "Traceback" not in run.stderr.read()
    finally:
        run.kill()


SLIPS = [
    ("format: 2", "format: ²", "format"),
    ("thickness: 3 mm", "thickness: 3 dB*m", "dB*m"),
    ("thickness: 3 mm", "thickness: 3 dBm/dB", "dBm/dB"),
]


@pytest.mark.quick("format")
@pytest.mark.parametrize(("old", "new", "told"), SLIPS)
def test_odd_characters_are_faults_not_the_end(live, file, old, new, told):
    """What a library stumbles over while the user types is shown as a fault."""
    good = file.read_text()
    assert good.count(old)
    file.write_text(good.replace(old, new, 1))
    live.watched.look()
    assert live.watched.news.event == "faults"
    assert told in live.watched.news.data
    file.write_text(good)
    live.watched.look()
    assert live.watched.news.event == "report"


@pytest.mark.quick("examine")
@pytest.mark.parametrize(
    ("where", "error"),
    [
        ("load", OSError(5, "odd")),
        ("examine", AssertionError()),
        ("html_page", RecursionError("odd")),
    ],
)
def test_whatever_fails_is_shown_and_outlived(live, file, monkeypatch, where, error):
    """An error nobody foresaw, in any step of a renewal, is told; the next save renews the page."""
    page = live.watched.page

    def fails(*_, **__):
        raise error

    with monkeypatch.context() as broken:
        broken.setattr(f"plumbing.report.live.watched.{where}", fails)
        file.write_text(file.read_text() + "\n")
        live.watched.look()
    assert live.watched.news.event == "faults"
    assert type(error).__name__ in json.loads(live.watched.news.data)["words"]
    assert live.watched.page == page
    file.write_text(file.read_text() + "\n")
    live.watched.look()
    assert live.watched.news.event == "report"


def test_file_that_vanishes_after_it_was_read_is_still_reported(live, file, monkeypatch):
    """The digest is that of the bytes read; the file is not opened a second time."""
    from plumbing.report.live import watched

    examine = watched.examine

    def vanishing(layout):
        file.unlink()
        return examine(layout)

    content = file.read_bytes() + b"\n"
    file.write_bytes(content)
    monkeypatch.setattr(watched, "examine", vanishing)
    live.watched.look()
    assert live.watched.news.event == "report"
    assert hashlib.sha256(content).hexdigest() in live.watched.page.decode()


@pytest.fixture
def logging(file):
    """A live page whose form puts rows to the logbook."""
    with Live(str(file), 0, logged) as served:
        yield served


def logged(path, row):
    """Put a row to a logbook as the command does."""
    return f"Wrote line {api.log(path, row).place.line}."


def post(live, row, token=None, path="/logbook", **headers):
    """Status and plain data of what the form is answered."""
    connection = http.client.HTTPConnection("127.0.0.1", live.port, timeout=20)
    names = {"X-Token": live.token if token is None else token, **headers}
    body = row if isinstance(row, bytes) else json.dumps(row).encode()
    connection.request("POST", path, body, names)
    answer = connection.getresponse()
    content = answer.read()
    connection.close()
    is_json = answer.headers["Content-Type"].startswith("application/json")
    return answer.status, json.loads(content) if is_json else content


def test_the_form_puts_a_row_and_the_page_is_renewed(logging, file):
    """The row is in the file, and the page tells what follows from it."""
    assert f'data-token="{logging.token}"' in get(logging)[1].decode()
    row = {"kind": "flight", "filled": "1.5 L", "time": "5 min"}
    assert post(logging, row) == (
        200,
        {"written": True, "words": "Wrote line 2.", "faults": []},
    )
    assert ",flight,,1.5 L,,,,,5 min,,," in (file.parent / "mine.logbook.csv").read_text()
    assert logging.watched.look()
    assert b"Timer and reserve as flown" in get(logging)[1]


def test_the_form_tells_every_fault_and_writes_nothing(logging, file):
    """What was found and expected, as on the command line."""
    status, told = post(logging, {"kind": "flight", "filled": "1.5", "time": "5 km"})
    assert (status, told["written"]) == (200, False)
    assert [one["found"][:5] for one in told["faults"]] == ["`1.5`", "`5 km"]
    assert not (file.parent / "mine.logbook.csv").exists()


@pytest.mark.parametrize(
    ("sent", "status"),
    [
        ({"token": ""}, 403),
        ({"token": "guessed"}, 403),
        ({"Origin": "http://example.org"}, 403),
        ({"Sec-Fetch-Site": "cross-site"}, 403),
        ({"path": "/"}, 404),
        ({"row": b"{"}, 400),
        ({"row": ["flight"]}, 400),
        ({"row": {"kind": 5}}, 400),
        ({"row": b"[" * 15_000}, 400),
        ({"row": b" " * 30_000}, 400),
    ],
)
def test_nobody_else_writes(logging, file, sent, status):
    """No token, another site, another path, no row, too much: nothing is written."""
    assert post(logging, **{"row": {"kind": "flight"}, **sent})[0] == status
    assert not (file.parent / "mine.logbook.csv").exists()


def test_a_page_without_a_logbook_to_write_has_no_form(still):
    """A server that writes nothing takes nothing, also without a token."""
    assert b"data-token" not in get(still)[1]
    assert post(still, {"kind": "flight"})[0] == 403
