/** The views on the page, one for each host. Making one takes long, so they go along from host to host. */

import { element } from "./dom";
import { Viewer } from "./viewer";

type Host = ShadowRoot | HTMLElement;

const NO_WEBGL =
  "The kitchen cannot be shown in 3D here: this browser has no WebGL, or it is switched off. " +
  "Everything else on this page works without it.";

interface Standing {
  readonly viewer: Viewer;
  key: string;
  /** None once it has left the page: then it waits for the next host. */
  host: Host | null;
}

const standings: Standing[] = [];

/** The view of this key, on this host, made if there is none; null, and a sentence there, where that cannot be. */
export function viewerIn(host: Host, key: string): Viewer | null {
  return standings.find((one) => one.host === host && one.key === key)?.viewer ?? open(host, key);
}

/** Take a view off the page, unless another host has it by now. */
export function close(host: Host): void {
  const standing = standings.find((one) => one.host === host);
  if (!standing) return;
  standing.host = null;
  standing.viewer.root.remove();
}

function open(host: Host, key: string): Viewer | null {
  try {
    const there = (one: Standing) => one.host === host;
    const standing = standings.find(there) ?? standings.find(isFree) ?? standings.find((one) => one.key === key) ?? made(key);
    if (standing.key !== key) standing.viewer.begin(key);
    Object.assign(standing, { key, host });
    host.append(standing.viewer.root);
    return standing.viewer;
  } catch {
    host.querySelector(".countersunk-scene")?.remove();
    const sentence = element("p", { className: "countersunk-scene", role: "note" }, NO_WEBGL);
    sentence.dataset["ready"] = "unavailable";
    host.append(sentence);
    return null;
  }
}

/** Whether no host on the page has it; Streamlit may open the next view before it takes the last one off. */
function isFree({ host }: Standing): boolean {
  return !host?.isConnected;
}

function made(key: string): Standing {
  const standing = { viewer: new Viewer(key), key, host: null };
  standings.push(standing);
  return standing;
}
