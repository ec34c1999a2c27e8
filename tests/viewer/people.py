"""People at the app without a browser: what one sends and gets over the framework's own websocket."""

import re

from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from streamlit.proto.WidgetStates_pb2 import WidgetState
from websockets.asyncio.client import connect

LARGEST = 64_000_000


class Person:
    """One session. ``seen`` is all that was sent to it, ``said`` the texts in that, ``buttons`` ids by label."""

    def __init__(self, connection, query):
        self.connection, self.query = connection, query
        self.seen, self.said, self.buttons = b"", [], {}

    @classmethod
    async def arrives(cls, address, query):
        """Open the address with this query and wait until the page has come."""
        stream = address.replace("http", "ws", 1) + "_stcore/stream"
        person = cls(await connect(stream, subprotocols=["streamlit"], max_size=LARGEST), query)
        await person.runs([])
        return person

    async def presses(self, label):
        """Press a button of the page and wait until the page has come again."""
        await self.runs([WidgetState(id=self.buttons[label], trigger_value=True)])

    async def runs(self, states):
        sent = BackMsg()
        sent.rerun_script.query_string = self.query
        sent.rerun_script.widget_states.widgets.extend(states)
        await self.connection.send(sent.SerializeToString())
        while True:
            raw = await self.connection.recv()
            self.seen += raw
            message = ForwardMsg.FromString(raw)
            self._take(message.delta.new_element)
            if message.WhichOneof("type") == "script_finished":
                return

    async def leaves(self):
        await self.connection.close()

    def _take(self, element):
        if element.button.id:
            self.buttons[element.button.label] = element.button.id
        if element.html.body:
            self.said.append(re.sub(r"<[^>]+>", "|", element.html.body))
