/** The panel in which decors are tried on. */

import { element } from "./dom";
import type { Choice, Offer } from "./payload";

export class DecorPanel {
  readonly root = element("details", { className: "panel", hidden: true }, element("summary", {}, "Decors"));
  private offered = "";

  constructor(private readonly chosen: (role: string, code: string) => void) {}

  /** Made anew only if something else is on offer or worn, or the focus would be lost. */
  offer(offers: readonly Offer[], worn: (offer: Offer) => string): void {
    const offered = JSON.stringify(offers.map((offer) => [offer, worn(offer)]));
    if (offered === this.offered) return;
    this.offered = offered;
    this.root.hidden = !offers.length;
    const focus = this.focused;
    this.root.replaceChildren(this.root.firstElementChild!, ...offers.map((offer) => this.list(offer, worn(offer))));
    if (focus) this.root.querySelector<HTMLElement>(`[value="${CSS.escape(focus)}"]`)?.focus();
  }

  private get focused(): string {
    const active = (this.root.getRootNode() as Document | ShadowRoot).activeElement;
    return active instanceof HTMLInputElement && this.root.contains(active) ? active.value : "";
  }

  private list(offer: Offer, worn: string): HTMLElement {
    const choices = offer.choices.map((choice) => this.choice(offer.role, choice, choice.code === worn));
    return element("fieldset", {}, element("legend", { className: "title" }, offer.name), ...choices);
  }

  private choice(role: string, { code, name, looks }: Choice, checked: boolean): HTMLElement {
    const box = element("input", { type: "radio", name: `decor-${role}`, value: code, checked });
    box.addEventListener("change", () => this.chosen(role, code));
    const swatch = element("span", { className: "swatch", ariaHidden: "true" });
    swatch.style.background = looks[role]?.colour ?? "none";
    return element("label", {}, box, swatch, name);
  }
}
