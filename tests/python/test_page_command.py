"""`aeruca page` from the terminal: where it listens, how it ends, what it says of bad arguments."""

import os
import re
import signal
import socket
import stat
import subprocess
import sys
import urllib.error
import urllib.request
from pathlib import Path

import pytest

import aeruca

pytest.importorskip("flask")
matplotlib = pytest.importorskip("matplotlib")


def command(*arguments):
    return [sys.executable, "-m", "aeruca.tool", *map(str, arguments)]


def environment(place):
    """Temporary files and all that is a user's lie below `place`, but what matplotlib keeps."""
    (place / "tmp").mkdir(exist_ok=True)
    package = str(Path(aeruca.__file__).parents[1])
    return {
        **os.environ,
        "PYTHONPATH": package,
        "TMPDIR": str(place / "tmp"),
        "HOME": str(place),
        "MPLCONFIGDIR": matplotlib.get_cachedir(),
    }


class Running:
    """`aeruca page` as a process, with the address it prints."""

    def __init__(self, place, *arguments):
        self.process = subprocess.Popen(
            command("page", "--no-browser", *arguments),
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env=environment(place),
        )
        line = self.process.stdout.readline()
        found = re.fullmatch(r"the page is at (http://127\.0\.0\.1:(\d+)/[\w-]{43}/)\n", line)
        assert found, line + self.process.stderr.read()
        self.address, self.port = found[1], int(found[2])
        line = self.process.stdout.readline()
        assert line == "for you alone on this machine; Ctrl-C ends it\n"

    def end(self, number=signal.SIGINT):
        self.process.send_signal(number)
        out, err = self.process.communicate(timeout=20)
        return self.process.returncode, out, err


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_it_listens_here_alone_and_leaves_nothing_behind(tmp_path, number):
    page = Running(tmp_path)
    own = next((tmp_path / "tmp").iterdir())
    assert stat.S_IMODE(own.stat().st_mode) == 0o700
    with urllib.request.urlopen(page.address, timeout=20) as answer:
        assert answer.status == 200
    with pytest.raises(urllib.error.HTTPError, match="403"):
        urllib.request.urlopen(page.address[:-5] + "/", timeout=20)
    with pytest.raises(OSError, match="refused"):  # every address of 127.0.0.0/8 is this machine
        socket.create_connection(("127.0.0.2", page.port), timeout=5)
    assert page.end(number) == (0, "\nthe page is ended\n", "")
    assert list((tmp_path / "tmp").iterdir()) == []


def test_an_interrupt_waits_for_what_is_at_work(tmp_path):
    page = Running(tmp_path)
    with urllib.request.urlopen(page.address, timeout=20) as answer:
        address = answer.geturl()
    with socket.create_connection(("127.0.0.1", page.port), timeout=20) as line:
        body = b"do=assess&object.name=pin&water.0.ph=7&water.0.chloride_mg_per_l=640"
        head = f"POST /{address.split('/', 3)[3]} HTTP/1.0\r\nHost: 127.0.0.1:{page.port}\r\n"
        head += "Content-Type: application/x-www-form-urlencoded\r\n"
        line.sendall(f"{head}Content-Length: {len(body)}\r\n\r\n".encode() + body)
        while not list((tmp_path / "tmp").glob("*/*")):  # until it is at work
            os.sched_yield()
        assert page.end()[::2] == (0, "")
    assert list((tmp_path / "tmp").iterdir()) == []


def test_a_chosen_folder_stays_with_what_was_saved(tmp_path):
    page = Running(tmp_path, "--folder", tmp_path / "mine")
    assert stat.S_IMODE((tmp_path / "mine").stat().st_mode) == 0o700
    with urllib.request.urlopen(page.address, timeout=20) as answer:
        address = answer.geturl()
    urllib.request.urlopen(address, data=b"do=report&object.name=pin", timeout=60).close()
    assert page.end()[0] == 0
    work = next((tmp_path / "mine").iterdir())
    assert sorted(path.name for path in work.iterdir()) == ["case.toml", "report.html"]
    assert list((tmp_path / "tmp").iterdir()) == []
    assert {path.name for path in tmp_path.iterdir()} == {"mine", "tmp"}


def test_a_browser_is_started_with_a_private_file_and_not_with_the_key(tmp_path):
    browser = tmp_path / "browser"
    given = tmp_path / "given"
    os.mkfifo(given)  # to read it is to wait for the browser
    browser.write_text(f'#!/bin/sh\nprintf "%s" "$1" > "{given}"\n')
    browser.chmod(0o755)
    process = subprocess.Popen(
        command("page"),
        stdout=subprocess.PIPE,
        text=True,
        env={**environment(tmp_path), "BROWSER": str(browser)},
    )
    address = process.stdout.readline().split()[-1]
    way = given.read_text()
    assert way.startswith(f"file://{tmp_path}/tmp/aeruca-page-")
    assert address.split("/")[3] not in way
    way = Path(way.removeprefix("file://"))
    assert f"url={address}" in way.read_text()
    assert stat.S_IMODE(way.stat().st_mode) == 0o600
    process.send_signal(signal.SIGINT)
    process.communicate(timeout=20)
    assert not way.exists()


def done(place, *arguments, **options):
    return subprocess.run(
        command("page", *arguments),
        capture_output=True,
        text=True,
        env=environment(place),
        **options,
    )


def test_a_port_that_is_taken_gets_one_sentence(tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        ended = done(tmp_path, "--no-browser", "--port", port)
    assert ended.returncode == 1
    assert ended.stdout == ""
    assert ended.stderr == (
        f"aeruca: port {port}: is taken by another program; accepted is another --port, or none "
        "for a free one\n"
    )
    assert list((tmp_path / "tmp").iterdir()) == []


@pytest.mark.parametrize(
    ("arguments", "code", "said"),
    [
        (["--port", "0"], 2, "page: argument --port: '0' is no port; accepted is 1 to 65535"),
        (["--port", "web"], 2, "page: argument --port: 'web' is no port; accepted is 1 to 65535"),
        (["--host", "0.0.0.0"], 2, "page: unrecognized arguments: --host 0.0.0.0"),
        (["--folder", ""], 2, "page: argument --folder: '' is empty; accepted is a text"),
        (["--json"], 2, "page: --json: the page is HTML; 'aeruca case FILE --json' prints JSON"),
        (["case.toml"], 2, "page: unrecognized arguments: case.toml"),
        (["--folder", "no/such/one"], 1, "no/such/one: is no folder that can be written to"),
        (["--folder", "file"], 1, "file: is no folder that can be written to"),
        (["--words", "none.toml"], 1, "none.toml"),
        (["--data", "none"], 1, "none"),
    ],
)
def test_bad_arguments_get_one_sentence(tmp_path, arguments, code, said):
    (tmp_path / "file").write_text("x")
    ended = done(tmp_path, "--no-browser", *arguments, cwd=tmp_path)
    assert ended.returncode == code
    assert ended.stderr.startswith(f"aeruca: {said}")
    assert len(ended.stderr.splitlines()) == (2 if code == 2 else 1)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "tmp"]


def test_without_flask_it_says_what_to_install(tmp_path):
    hidden = tmp_path / "flask"
    hidden.mkdir()
    (hidden / "__init__.py").write_text("raise ImportError('no flask', name='flask')\n")
    package = str(Path(aeruca.__file__).parents[1])
    ended = subprocess.run(
        command("page", "--no-browser"),
        capture_output=True,
        text=True,
        env={**environment(tmp_path), "PYTHONPATH": f"{tmp_path}:{package}"},
    )
    assert ended.returncode == 1
    said = 'aeruca: the page needs flask; install it with: pip install "aeruca[page]"\n'
    assert ended.stderr == said
