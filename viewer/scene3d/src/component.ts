/** What Streamlit calls: once for each change of the data, always with the same host while it is on the page. */

import { openPage } from "./page";
import { unpack } from "./payload";
import { close, viewerIn } from "./viewers";

interface Call {
  readonly data: Uint8Array;
  readonly parentElement: ShadowRoot | HTMLElement;
  readonly setTriggerValue: (name: string, value: unknown) => void;
}

export default function component({ data, parentElement, setTriggerValue }: Call): () => void {
  const payload = unpack(data);
  const viewer = viewerIn(parentElement, payload.header.key);
  if (payload.lacking) setTriggerValue("lacking", true);
  else if (viewer) {
    viewer.onPick = (id) => setTriggerValue("picked", { id });
    void viewer.show(payload);
  }
  // Streamlit also cleans up after calls that were overtaken by the next one; then the host is still there.
  return () => {
    if (!parentElement.isConnected) close(parentElement);
  };
}

// The same script also serves the page that a customer opens from disk.
openPage();
