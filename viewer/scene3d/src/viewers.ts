/** The views on the page, one for each host. */

import { element } from "./dom";
import { Viewer } from "./viewer";

type Host = ShadowRoot | HTMLElement;

const NO_WEBGL =
  "The kitchen cannot be shown in 3D here: this browser has no WebGL, or it is switched off. " +
  "Everything else on this page works without it.";

const viewers = new WeakMap<Host, Viewer>();

/** The view of this host, made if there is none; null, and a sentence on the page, where that cannot be. */
export function viewerIn(host: Host, key: string): Viewer | null {
  return viewers.get(host) ?? open(host, key);
}

export function close(host: Host): void {
  viewers.get(host)?.destroy();
  viewers.delete(host);
}

function open(host: Host, key: string): Viewer | null {
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
