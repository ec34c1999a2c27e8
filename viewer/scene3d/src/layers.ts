/** The panel that shows and hides layers. */

import { element } from "./dom";

/** The order in which a kitchen is put up; a layer that is not named here comes last. */
const ORDER = ["room", "carcass", "fronts", "worktops", "upper", "appliances", "hardware", "services", "clearances"];
const NAMES: Record<string, string> = { carcass: "Carcasses", upper: "Wall units" };

export class LayerPanel {
  readonly root = element("details", { className: "panel" }, element("summary", {}, "Layers"));
  private readonly list = element("fieldset", {}, element("legend", {}, "Layers"));
  private layers = "";

  constructor(
    private readonly hidden: () => Set<string>,
    private readonly changed: () => void,
  ) {
    this.root.append(this.list);
  }

  /** The boxes are made anew only if the layers differ, or the focus would be lost at every edit. */
  offer(layers: Iterable<string>): void {
    const sorted = [...new Set(layers)].sort((a, b) => place(a) - place(b) || a.localeCompare(b));
    if (sorted.join() === this.layers) return;
    this.layers = sorted.join();
    this.list.replaceChildren(this.list.firstElementChild!, ...sorted.map((layer) => this.choice(layer)));
  }

  /** What was hidden may be another now. */
  renew(): void {
    this.layers = "";
  }

  private choice(layer: string): HTMLElement {
    const box = element("input", { type: "checkbox", name: layer, checked: !this.hidden().has(layer) });
    box.addEventListener("change", () => {
      if (box.checked) this.hidden().delete(layer);
      else this.hidden().add(layer);
      this.changed();
    });
    return element("label", {}, box, NAMES[layer] ?? layer.charAt(0).toUpperCase() + layer.slice(1));
  }
}

function place(layer: string): number {
  const index = ORDER.indexOf(layer);
  return index < 0 ? ORDER.length : index;
}
