/** Where a measuring point is drawn to: the corner or the edge close by, else where the surface is met. */

import { Ray, Raycaster, Vector2, Vector3 } from "three";
import type { Camera } from "three";
import type { Model, Part } from "./model";
import { hitAt } from "./picking";

export interface Snap {
  readonly point: Vector3;
  readonly on: "corner" | "edge" | "face";
  readonly part: Part;
}

interface Candidate {
  readonly point: Vector3;
  readonly on: "corner" | "edge";
  /** Pixels from where the person points. */
  readonly off: number;
}

const CORNER_PIXELS = 12;
const EDGE_PIXELS = 9;
/** Points this close to one another on the picture are told apart by where they are in space. */
const SAME_PIXELS = 3;
/** Of two points on one line of sight the nearer is meant, unless they are closer than this, metres. */
const BEHIND = 0.05;
const PROBES = 8;

/** `size` is that of the picture in pixels. */
export function snapAt(at: Vector2, size: Vector2, camera: Camera, model: Model): Snap | null {
  const hit = hitAt(at, camera, model) ?? nearby(at, size, camera, model);
  if (!hit) return null;
  const caster = new Raycaster();
  caster.setFromCamera(at, camera);
  const found = candidates(hit.part, at, size, camera, caster.ray);
  const best = preferred(found, "corner", hit.part, camera) ?? preferred(found, "edge", hit.part, camera);
  return best ? { ...best, part: hit.part } : { point: hit.point, on: "face", part: hit.part };
}

/** Who aims at an edge may miss the part by a hair. */
function nearby(at: Vector2, size: Vector2, camera: Camera, model: Model): ReturnType<typeof hitAt> {
  for (let probe = 0; probe < PROBES; probe++) {
    const turn = (probe / PROBES) * 2 * Math.PI;
    const aside = new Vector2(Math.cos(turn), Math.sin(turn)).multiplyScalar(2 * EDGE_PIXELS).divide(size);
    const hit = hitAt(aside.add(at), camera, model);
    if (hit) return hit;
  }
  return null;
}

function candidates(part: Part, at: Vector2, size: Vector2, camera: Camera, ray: Ray): Candidate[] {
  const off = (point: Vector3) => pixelsOff(point, at, size, camera);
  const found: Candidate[] = [];
  for (const [start, end] of edgesOf(part)) {
    const along = new Vector3();
    ray.distanceSqToSegment(start, end, undefined, along);
    if (off(along) > CORNER_PIXELS) continue;
    for (const corner of [start, end])
      if (off(corner) < CORNER_PIXELS) found.push({ point: corner, on: "corner", off: off(corner) });
    if (off(along) < EDGE_PIXELS) found.push({ point: along, on: "edge", off: off(along) });
  }
  return found;
}

/** Of those nearest to the pointer the one in front; of a rounded edge the point furthest out, where a rule stops. */
function preferred(found: Candidate[], on: "corner" | "edge", part: Part, camera: Camera): Candidate | null {
  const fitting = found.filter((candidate) => candidate.on === on);
  const eye = camera.position;
  const nearest = Math.min(...fitting.map(({ point }) => point.distanceTo(eye)));
  const front = fitting.filter(({ point }) => point.distanceTo(eye) < nearest + BEHIND);
  const least = Math.min(...front.map(({ off }) => off));
  const middle = part.box.getCenter(new Vector3());
  const close = front.filter(({ off }) => off < least + SAME_PIXELS);
  return close.sort((a, b) => b.point.distanceTo(middle) - a.point.distanceTo(middle))[0] ?? null;
}

function* edgesOf(part: Part): Generator<[Vector3, Vector3]> {
  for (const lines of part.edges) {
    const points = lines.geometry.getAttribute("position");
    for (let i = 0; i < points.count; i += 2) {
      const [start, end] = [i, i + 1].map((index) => new Vector3().fromBufferAttribute(points, index));
      yield [start!.applyMatrix4(lines.matrixWorld), end!.applyMatrix4(lines.matrixWorld)];
    }
  }
}

function pixelsOff(point: Vector3, at: Vector2, size: Vector2, camera: Camera): number {
  const seen = point.clone().project(camera);
  return Math.hypot(((seen.x - at.x) * size.x) / 2, ((seen.y - at.y) * size.y) / 2);
}
