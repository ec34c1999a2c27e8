/** What Streamlit calls: once for each change of the data, always with the same host while it is on the page. */

import { element } from "./dom";
import { unpack } from "./payload";
import { Viewer } from "./viewer";

interface Call {
  readonly data: Uint8Array;
  readonly parentElement: ShadowRoot | HTMLElement;
  readonly setTriggerValue: (name: string, value: unknown) => void;
}

const NO_WEBGL =
  "The kitchen cannot be shown in 3D here: this browser has no WebGL, or it is switched off. " +
  "Everything else on this page works without it.";

const viewers = new WeakMap<Node, Viewer>();

export default function component({ data, parentElement, setTriggerValue }: Call): () => void {
  const payload = unpack(data);
  const viewer = viewers.get(parentElement) ?? open(parentElement, payload.header.key);
  if (viewer) {
    viewer.onPick = (id) => setTriggerValue("picked", { id });
    void viewer.show(payload);
  }
  return () => close(parentElement);
}

function open(host: ShadowRoot | HTMLElement, key: string): Viewer | null {
  try {
    const viewer = new Viewer(key);
    viewers.set(host, viewer);
    host.append(viewer.root);
    return viewer;
  } catch {
    host.querySelector(".countersunk-scene")?.remove();
    const sentence = element("p", { className: "countersunk-scene", role: "note" }, NO_WEBGL);
    sentence.dataset["ready"] = "unavailable";
    host.append(sentence);
    return null;
  }
}

/** Streamlit also cleans up after calls that were overtaken by the next one; then the host is still there. */
function close(host: ShadowRoot | HTMLElement): void {
  if (host.isConnected) return;
  viewers.get(host)?.destroy();
  viewers.delete(host);
}
