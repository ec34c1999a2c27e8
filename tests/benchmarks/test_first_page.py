"""How long the app takes from the start of its process until its first page can be used in a browser.

Run with ``pytest tests/benchmarks --benchmark-enable --benchmark-group-by=group``. The peer is a page of the same
framework that shows one line: what is over it is ours. The table has seconds as they pass; ``cpu`` beside each is
what the server itself worked, which other work on the machine changes less. Nothing here passes or fails by time.
The page can be used once the server is done with it and the strip stands there. The browser has 3D switched off:
without a graphics card it would draw for longer than all the rest takes.
"""

import resource
import subprocess
import sys

import pytest
from playwright.sync_api import sync_playwright

from tests.lanes import some
from tests.viewer.browser import CHROMIUM, FLAGS, PATIENCE, free_port, waited_for

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="needs Debian's Chromium (package chromium)")
NO_3D = "--disable-3d-apis"
DONE = '[data-testid="stApp"][data-test-script-state="notRunning"]'


@pytest.fixture(scope="module")
def browser():
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=[*FLAGS, NO_3D])
        yield browser
        browser.close()


def first_page(browser, command, shows):
    """Start a server, open its page, wait for what it shows; the seconds that the server worked."""
    port, before = free_port(), worked()
    flags = ["--port", str(port)] if "app" in command else ["--server.port", str(port)]
    server = subprocess.Popen([sys.executable, "-m", *command, *flags], stdout=subprocess.DEVNULL)
    try:
        waited_for(f"http://localhost:{port}/_stcore/health")
        page = browser.new_page()
        page.goto(f"http://localhost:{port}/")
        page.wait_for_selector(shows, timeout=PATIENCE)
        page.wait_for_selector(DONE, timeout=PATIENCE)
        page.close()
    finally:
        server.terminate()
        server.wait(10)
    return worked() - before


def worked():
    """Seconds of processors that ended children of this process took; those still running do not count yet."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


@pytest.mark.slow
@pytest.mark.benchmark(group="the first page")
@pytest.mark.parametrize("whose", some(["ours", "the framework's own"], 2))
def test_first_page(benchmark, browser, tmp_path, whose):
    line = tmp_path / "line.py"
    line.write_text("import streamlit as st\nst.markdown('a line')\n")
    quiet = ["--server.headless=true", "--browser.gatherUsageStats=false", "--server.fileWatcherType=none"]
    command, shows = {
        "ours": (["countersunk.viewer.commands.main", "app", "corner", "--no-browser"], "[data-unit]"),
        "the framework's own": (["streamlit", "run", str(line), *quiet], "text=a line"),
    }[whose]
    seconds = []
    benchmark.pedantic(lambda: seconds.append(first_page(browser, command, shows)), rounds=3)
    benchmark.extra_info["cpu"] = round(min(seconds), 2)
    assert len(seconds) >= 1
