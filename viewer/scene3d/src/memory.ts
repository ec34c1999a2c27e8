/** What outlives a view that leaves the page and comes back, and a kitchen that takes another's place. */

import type { Vector3 } from "three";
import type { Standpoint } from "./views";

/** A section: what lies further along `towards`, a level direction, than the plane is cut away. */
export interface Section {
  readonly towards: Vector3;
  /** Where the plane stands, from 0 at the far end of the kitchen to 1 at the near one. */
  share: number;
}

export interface Memory {
  standpoint: Standpoint | null;
  walking: boolean;
  picked: string | null;
  readonly hidden: Set<string>;
  /** Leaves that stand open. */
  readonly open: Set<string>;
  apart: boolean;
  section: Section | null;
  /** What a person chose to try, by role; until the page itself asks for something else. */
  readonly tried: Map<string, string>;
}

const memories = new Map<string, Memory>();

/** Clearances stand where nothing stands, in front of everything: they are shown on demand. */
const HIDDEN_AT_FIRST = ["clearances"];

export function recall(key: string): Memory {
  const known = memories.get(key) ?? blank();
  memories.set(key, known);
  return known;
}

function blank(): Memory {
  return {
    standpoint: null,
    walking: false,
    picked: null,
    hidden: new Set(HIDDEN_AT_FIRST),
    open: new Set(),
    apart: false,
    section: null,
    tried: new Map(),
  };
}
