/** The customer's page: the message lies in the page itself, and nothing answers. See `customer_html.py`. */

import { unpack } from "./payload";
import { viewerIn } from "./viewers";

const MESSAGE = "countersunk-message";
const PLACE = "countersunk-view";

/** Show the kitchen that the page carries, if it carries one. */
export function openPage(): void {
  const carried = document.getElementById(MESSAGE)?.textContent;
  const place = document.getElementById(PLACE);
  if (!carried || !place) return;
  const payload = unpack(Uint8Array.from(atob(carried), (character) => character.charCodeAt(0)));
  void viewerIn(place, payload.header.key)?.show(payload);
}
