"""Downloads: what is quick is made as it is fetched, what takes long when asked for, and kept until it changes."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from countersunk.model.errors import CountersunkError
from countersunk.viewer.app.session import Desk, plain, plainly

Step = Callable[[str], None]


def offer(label: str, made: Callable[[], bytes], name: str) -> None:
    """A file to take away."""
    st.download_button(label, made, name, on_click="ignore", icon=":material/download:", key=f"file-{name}")


def made_when_asked(desk: Desk, label: str, make: Callable[[Step], bytes], name: str, of: object = None) -> None:
    """A file that takes some seconds: a button makes it and says how far it is, then it can be taken away.

    ``of`` is what else it hangs on besides kitchen and prices; where any of them changes it has to be made anew.
    """
    key, state = f"made-{name}", (desk.document, desk.book, of)
    held = st.session_state.get(key)
    if held and held[0] == state:
        offer(label, lambda: held[1], name)
        return
    if st.button(f"Make: {label}", icon=":material/hourglass_empty:", key=f"make-{name}"):
        with st.status(f"Making {label}", expanded=False) as status:
            try:
                made = make(lambda text: status.update(label=text))
            except CountersunkError as error:
                status.update(label="It could not be made", state="error")
                st.error(plain(plainly(error)), icon=":material/block:")
                return
            status.update(label="Made", state="complete")
        st.session_state[key] = (state, made)
        st.rerun()
