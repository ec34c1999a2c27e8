/** Shares from 0 to 1 that glide to where they are sent: how far a door is open, how far a worktop is apart. */

import { MathUtils } from "three";

interface Glide {
  readonly from: number;
  readonly to: number;
  readonly start: number;
}

const GLIDE_MS = 380;

export class Shares {
  private readonly glides = new Map<string, Glide>();
  private readonly calm = window.matchMedia("(prefers-reduced-motion: reduce)");

  /**
   * True if it was not on its way there. At the first time it is there at once: nothing moves when a kitchen comes
   * onto the page.
   */
  send(name: string, to: number, now: number): boolean {
    const known = this.glides.get(name);
    if (known?.to === to) return false;
    const from = known && !this.calm.matches ? share(known, now) : to;
    this.glides.set(name, { from, to, start: now });
    return true;
  }

  at(name: string, now: number): number {
    const glide = this.glides.get(name);
    return glide ? share(glide, now) : 0;
  }

  moving(now: number): boolean {
    return [...this.glides.values()].some(({ from, to, start }) => from !== to && now - start < GLIDE_MS);
  }
}

function share({ from, to, start }: Glide, now: number): number {
  if (from === to) return to;
  return MathUtils.lerp(from, to, MathUtils.smoothstep(now - start, 0, GLIDE_MS));
}
