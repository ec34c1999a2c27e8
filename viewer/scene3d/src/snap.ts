/** Where a measuring point is drawn to: the corner or the edge close by, else where the surface is met. */

import { Ray, Raycaster, Vector2, Vector3 } from "three";
import type { Camera } from "three";
import { isRoom } from "./model";
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

/** `size` is that of the picture in pixels. Any part that is seen close by may draw the point to it. */
export function snapAt(at: Vector2, size: Vector2, camera: Camera, model: Model): Snap | null {
  const hits = around(at, size).flatMap((place) => hitAt(place, camera, model) ?? []);
  const caster = new Raycaster();
  caster.setFromCamera(at, camera);
  const drawn = [...new Set(hits.map(({ part }) => part))].flatMap((part) => {
    const found = candidates(part, at, size, camera, caster.ray);
    const best = preferred(found, "corner", part, camera) ?? preferred(found, "edge", part, camera);
    return best ? { ...best, part } : [];
  });
  const best = drawn.sort(closer)[0];
  const [first] = hits;
  return best ?? (first ? { point: first.point, on: "face", part: first.part } : null);
}

/** The place itself, and a ring about it: who aims at an edge may miss the part by a hair. */
function around(at: Vector2, size: Vector2): Vector2[] {
  const turns = Array.from({ length: PROBES }, (_, probe) => (probe / PROBES) * 2 * Math.PI);
  const ring = turns.map((turn) => new Vector2(Math.cos(turn), Math.sin(turn)).multiplyScalar(2 * EDGE_PIXELS));
  return [at, ...ring.map((aside) => aside.divide(size).add(at))];
}

/** Corners before edges, then what is nearer to the pointer; the room only where nothing stands before it. */
function closer(one: Candidate & { part: Part }, other: Candidate & { part: Part }): number {
  const rank = ({ on, part }: Candidate & { part: Part }) => (on === "corner" ? 0 : 2) + (isRoom(part) ? 1 : 0);
  return rank(one) - rank(other) || one.off - other.off;
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

/** Of those nearest to the pointer the one in front; of a rounded edge the point seen furthest out, where a rule stops. */
function preferred(found: Candidate[], on: "corner" | "edge", part: Part, camera: Camera): Candidate | null {
  const fitting = found.filter((candidate) => candidate.on === on);
  const eye = camera.position;
  const nearest = Math.min(...fitting.map(({ point }) => point.distanceTo(eye)));
  const front = fitting.filter(({ point }) => point.distanceTo(eye) < nearest + BEHIND);
  const least = Math.min(...front.map(({ off }) => off));
  const middle = part.box.getCenter(new Vector3()).project(camera);
  const out = ({ point }: Candidate) => Math.hypot(...seenFrom(middle, point, camera));
  const close = front.filter(({ off }) => off < least + SAME_PIXELS);
  return close.sort((a, b) => out(b) - out(a))[0] ?? null;
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

function seenFrom(middle: Vector3, point: Vector3, camera: Camera): [number, number] {
  const seen = point.clone().project(camera).sub(middle);
  return [seen.x, seen.y];
}

function pixelsOff(point: Vector3, at: Vector2, size: Vector2, camera: Camera): number {
  const seen = point.clone().project(camera);
  return Math.hypot(((seen.x - at.x) * size.x) / 2, ((seen.y - at.y) * size.y) / 2);
}
