/** What outlives a view that leaves the page and comes back: where the eye was, what was hidden, what was picked. */

import type { Standpoint } from "./views";

export interface Memory {
  standpoint: Standpoint | null;
  readonly hidden: Set<string>;
  picked: string | null;
}

const memories = new Map<string, Memory>();

/** Clearances stand where nothing stands, in front of everything: they are shown on demand. */
const HIDDEN_AT_FIRST = ["clearances"];

export function recall(key: string): Memory {
  const known = memories.get(key) ?? { standpoint: null, hidden: new Set(HIDDEN_AT_FIRST), picked: null };
  memories.set(key, known);
  return known;
}
