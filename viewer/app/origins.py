"""Origins: which pages may talk to the server, besides those that it serves itself: none.

The framework would trust every page of this machine, whatever its port, and ask an outside service for this
machine's address before it refuses a strange page. Both end here; the host that a request names is judged by the
framework itself (``server.allowedHosts``).
"""

from __future__ import annotations

HOSTS = ("localhost", "127.0.0.1", "::1")
"""What a request to this machine may call it: another name is one that somebody has pointed here."""

JUDGE = "is_url_from_allowed_origins"
"""By what name the framework's check of a connection asks about pages of another origin."""


def trust_own_pages_only() -> None:
    """Let the framework refuse every page of another origin: another name or port. Call before it serves."""
    from streamlit.web.server.starlette import starlette_websocket

    known = vars(starlette_websocket)
    if JUDGE not in known:
        raise LookupError(f"this version of the framework has no {JUDGE}")
    known[JUDGE] = _refused


def _refused(_: str) -> bool:
    """Nothing is allowed that is not the page's own origin, which the framework lets through without asking."""
    return False
