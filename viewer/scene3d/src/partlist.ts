/** Every part by name, for those who do not point: a list to choose from, and the way to the next and the last. */

import { element } from "./dom";
import { isRoom } from "./model";
import type { Model } from "./model";

const NOTHING = "No part";

export class PartList {
  readonly root = element("select", { className: "parts", ariaLabel: "Part" });
  private ids: string[] = [];
  private offered = "";

  constructor(chosen: (id: string | null) => void) {
    this.root.addEventListener("change", () => chosen(this.root.value || null));
  }

  offer(model: Model): void {
    const parts = [...model.parts.values()];
    const offered = parts.map(({ id, label }) => `${id} ${label}`).join();
    if (offered === this.offered) return;
    this.offered = offered;
    this.ids = parts.map(({ id }) => id);
    const groups = new Map<string, HTMLElement>();
    for (const part of parts) {
      const owner = isRoom(part) ? "Room" : part.owner;
      const group = groups.get(owner) ?? element("optgroup", { label: owner });
      group.append(element("option", { value: part.id }, part.label));
      groups.set(owner, group);
    }
    this.root.replaceChildren(element("option", { value: "" }, NOTHING), ...groups.values());
  }

  show(id: string | null): void {
    this.root.value = id ?? "";
  }

  /** The id that lies `steps` further on from this one; round at the ends. */
  beside(id: string | null, steps: number): string | null {
    const here = id === null ? (steps > 0 ? -1 : 0) : this.ids.indexOf(id);
    return this.ids.at((here + steps) % this.ids.length) ?? null;
  }
}
