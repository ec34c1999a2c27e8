"""What tests of the app share."""

import pytest

from tests.viewer.browser import serving


@pytest.fixture(scope="session")
def served(tmp_path_factory):
    """The address of one app, opened on the L-shaped demo: whoever comes has a session of their own."""
    log = tmp_path_factory.mktemp("server") / "log"
    with serving("corner", log) as address:
        yield address
    assert "Traceback" not in log.read_text()
