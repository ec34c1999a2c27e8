/** What is seen at a place of the picture. Places are −1 to 1 across and up, as the camera has them. */

import { Raycaster } from "three";
import type { Camera, Vector2, Vector3 } from "three";
import { isSeen, isVolume } from "./model";
import type { Model, Part } from "./model";

export interface Hit {
  readonly part: Part;
  readonly distance: number;
  readonly point: Vector3;
}

/** The nearest part that is seen there. A solid part is preferred to a clearance, which is only air. */
export function hitAt(at: Vector2, camera: Camera, model: Model): Hit | null {
  const caster = new Raycaster();
  caster.setFromCamera(at, camera);
  const hits = [...model.parts.values()]
    .filter(isSeen)
    .flatMap((part) => hitOn(part, caster) ?? [])
    .sort((a, b) => a.distance - b.distance);
  return hits.find(({ part }) => !isVolume(part)) ?? hits[0] ?? null;
}

function hitOn(part: Part, caster: Raycaster): Hit | null {
  const nearest = caster.intersectObjects(part.surfaces, false).find(({ point }) => isWhole(part, point));
  return nearest ? { part, distance: nearest.distance, point: nearest.point } : null;
}

/** Whether the section leaves this point of the part standing. */
function isWhole(part: Part, point: Vector3): boolean {
  const planes = part.surfaces[0]?.material.clippingPlanes ?? [];
  return planes.every((plane) => plane.distanceToPoint(point) >= 0);
}
