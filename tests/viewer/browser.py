"""The app served on this machine, and a real browser to look at it."""

import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import contextmanager

import pytest
from playwright.sync_api import sync_playwright

from countersunk import shared
from tests.lanes import SKIP_NOTHING

CHROMIUM = shutil.which("chromium")
if CHROMIUM is None and SKIP_NOTHING:
    pytest.fail("no Chromium: install Debian's package chromium", pytrace=False)
NEEDS_CHROMIUM = pytest.mark.skipif(CHROMIUM is None, reason="needs Debian's Chromium (package chromium)")
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
]
PATIENCE = 90_000  # ms; software graphics draw the first picture after ten seconds or more


@contextmanager
def serving(file, log):
    """The app on a free port, opened on ``file``; its address. What it prints goes to the path ``log``."""
    port = free_port()
    command = [
        sys.executable,
        "-m",
        "countersunk.viewer.commands.main",
        "app",
        file,
        "--no-browser",
        "--port",
        str(port),
    ]
    with log.open("w") as stream:
        server = subprocess.Popen(
            command, cwd=shared.FOLDER.parent, stdout=stream, stderr=subprocess.STDOUT, start_new_session=True
        )
    try:
        waited_for(f"http://localhost:{port}/_stcore/health")
        yield f"http://localhost:{port}/"
    finally:
        os.killpg(server.pid, 15)
        server.wait(10)


@contextmanager
def browsing(address, width=1280, height=900, sharpness=0.5):
    """A page on the app once it shows its first picture; ``page.elsewhere`` keeps requests to anywhere else.

    ``sharpness`` is pixels drawn for each of the page's: few, since software draws them.
    """
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page = browser.new_page(viewport={"width": width, "height": height}, device_scale_factor=sharpness)
        page.elsewhere = []
        page.on("request", lambda r: page.elsewhere.append(r.url) if _is_elsewhere(r.url) else None)
        page.goto(address, timeout=PATIENCE)
        page.wait_for_selector('[data-ready="true"]', timeout=PATIENCE)
        yield page
        browser.close()


def settled(page):
    """Wait until the script has run and the view has come to rest on what it was sent."""
    page.wait_for_selector('[data-testid="stApp"][data-test-script-state="notRunning"]', timeout=PATIENCE)
    page.wait_for_selector('[data-ready="true"][data-still="true"]', timeout=PATIENCE)


def _is_elsewhere(url):
    return not url.startswith(("http://localhost", "ws://localhost", "data:", "blob:"))


def free_port():
    with socket.socket() as probe:
        probe.bind(("localhost", 0))
        return probe.getsockname()[1]


def waited_for(url):
    """Wait until a server answers at a URL, two minutes at most: other work may keep the processors busy."""
    for _ in range(2_400):
        try:
            urllib.request.urlopen(url, timeout=2).close()
            return
        except OSError:
            time.sleep(0.05)
    raise AssertionError("the server did not start")
