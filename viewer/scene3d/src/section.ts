/** The section: a level plane that cuts away what stands nearer, so that one sees into the units. */

import { DoubleSide, FrontSide, Plane, Vector3 } from "three";
import type { Camera, Material, Mesh } from "three";
import type { Section } from "./memory";
import { boxOf, furniture, isRoom } from "./model";
import type { Model } from "./model";

/** A plane that grazes a board flickers; the ends of the way are kept clear of what stands there. */
const PAST = 0.01;

/** A section square to the wall direction that is nearest to the eye's own. */
export function sectionFrom(model: Model, camera: Camera, share: number): Section {
  const back = camera.getWorldDirection(new Vector3()).negate().setY(0);
  const ways = [...model.parts.values()].flatMap(({ kind, inward }) => (kind === "wall" && inward ? [inward] : []));
  const across = ways.flatMap((way) => [way, way.clone().negate()]);
  const towards = across.toSorted((one, other) => other.dot(back) - one.dot(back))[0] ?? new Vector3(0, 0, 1);
  return { towards, share };
}

/** Cut the furniture of a model, or leave it whole; by what. The room stays: its walls give way by themselves. */
export function cut(model: Model, section: Section | null): Plane[] {
  const planes = section ? [planeOf(model, section)] : [];
  for (const part of model.parts.values()) {
    if (isRoom(part)) continue;
    for (const surface of part.surfaces)
      surface.traverse((object) => {
        if ("material" in object) clip((object as Mesh).material as Material, planes);
      });
  }
  return planes;
}

function clip(material: Material, planes: Plane[]): void {
  material.clippingPlanes = planes;
  material.clipShadows = true;
  const side = planes.length ? DoubleSide : FrontSide;
  if (material.side !== side) material.needsUpdate = true;
  material.side = side;
}

function planeOf(model: Model, { towards, share }: Section): Plane {
  const box = boxOf(furniture(model));
  const ends = [box.min, box.max].flatMap(({ x }) =>
    [box.min, box.max].map(({ z }) => new Vector3(x, 0, z).dot(towards)),
  );
  const [far, near] = [Math.min(...ends) - PAST, Math.max(...ends) + PAST];
  return new Plane(towards.clone().negate(), far + (near - far) * share);
}
