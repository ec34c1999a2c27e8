/** How a leaf opens: a door turns about its hinge edge, a drawer slides. Metres and radians, in the world's axes. */

import { MathUtils, Matrix4, Vector3 } from "three";

export interface Opening {
  /** What moves as one: a door with its handle, a drawer with its box. */
  readonly leaf: string;
  readonly slides: boolean;
  readonly at: Vector3;
  readonly axis: Vector3;
  readonly travel: number;
}

export function openingOf(extras: unknown): Opening | null {
  if (typeof extras !== "object" || extras === null) return null;
  const { leaf, kind, at, axis, travel } = extras as Record<string, unknown>;
  const slides = kind === "slide";
  return {
    leaf: String(leaf),
    slides,
    at: new Vector3().fromArray(slides ? [0, 0, 0] : (at as number[])),
    axis: new Vector3().fromArray(axis as number[]),
    travel: slides ? Number(travel) : MathUtils.degToRad(Number(travel)),
  };
}

/** The move that opens it by a share of its travel. */
export function opened({ slides, at, axis, travel }: Opening, share: number): Matrix4 {
  if (slides) return translation(axis.clone().multiplyScalar(travel * share));
  return translation(at)
    .multiply(new Matrix4().makeRotationAxis(axis, travel * share))
    .multiply(translation(at.clone().negate()));
}

export function translation({ x, y, z }: Vector3): Matrix4 {
  return new Matrix4().makeTranslation(x, y, z);
}
