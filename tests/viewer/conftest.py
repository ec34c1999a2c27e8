"""What tests of the app share."""

from contextlib import contextmanager

import pytest

from tests.viewer.browser import serving


@contextmanager
def app_on_the_corner(tmp_path_factory):
    """The address of an app that is opened on the L-shaped demo, and that tells of no error while it is used."""
    log = tmp_path_factory.mktemp("server") / "log"
    with serving("corner", log) as address:
        yield address
    assert "Traceback" not in log.read_text()


@pytest.fixture(scope="session")
def served(tmp_path_factory):
    """One app for all: whoever comes has a session of their own."""
    with app_on_the_corner(tmp_path_factory) as address:
        yield address
