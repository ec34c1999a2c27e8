/** The tape: two points, the line between them and its length in millimetres. */

import { BufferGeometry, Group, Points, PointsMaterial, Scene } from "three";
import type { Camera, Vector2, Vector3 } from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { element } from "./dom";
import type { Snap } from "./snap";

const COLOUR = 0xb3261e;
const DOT_PIXELS = 9;
const LINE_PIXELS = 3;
const NAMES = { corner: "a corner of", edge: "an edge of", face: "the face of" };

export class Tape {
  /** Drawn over the kitchen, whatever stands before it. */
  readonly scene = new Scene();
  readonly label = element("div", { className: "length", hidden: true });
  /** Which of the pictures it lies on. */
  picture = 0;
  private ends: Snap[] = [];
  private readonly drawn = new Group();

  constructor() {
    this.scene.add(this.drawn);
  }

  /** The first point, then the second; a third begins anew. */
  take(end: Snap, picture: number): void {
    const fresh = this.ends.length !== 1 || picture !== this.picture;
    this.ends = fresh ? [end] : [...this.ends, end];
    this.picture = picture;
    this.redraw(null);
  }

  /** Show where the next point would lie. */
  offer(end: Snap | null): void {
    this.redraw(end);
  }

  clear(): void {
    this.ends = [];
    this.redraw(null);
  }

  get millimetres(): number | null {
    const [from, to] = this.ends;
    return from && to ? from.point.distanceTo(to.point) * 1000 : null;
  }

  /** What it says, in words. */
  get words(): string {
    const [from, to] = this.ends;
    if (!from) return "Measuring: choose the first point.";
    if (!to) return `From ${NAMES[from.on]} ${from.part.label}. Choose the second point.`;
    const way = to.point.clone().sub(from.point);
    const level = Math.round(Math.hypot(way.x, way.z) * 1000);
    const height = Math.round(Math.abs(way.y) * 1000);
    return `${this.length} from ${NAMES[from.on]} ${from.part.label} to ${NAMES[to.on]} ${to.part.label}: ${level} level, ${height} in height.`;
  }

  /** Put the label where the middle of the line is seen; `picture` is its size and where it begins, in pixels. */
  place(camera: Camera, left: number, size: Vector2): void {
    const [from, to] = this.ends;
    this.label.hidden = !to;
    if (!from || !to) return;
    const middle = from.point.clone().lerp(to.point, 0.5).project(camera);
    const x = left + ((middle.x + 1) / 2) * size.x;
    this.label.style.transform = `translate(${x}px, ${((1 - middle.y) / 2) * size.y}px) translate(-50%, -130%)`;
    this.label.textContent = this.length;
  }

  private get length(): string {
    return `${Math.round(this.millimetres ?? 0)} mm`;
  }

  private redraw(next: Snap | null): void {
    for (const drawn of [...this.drawn.children] as (Points | LineSegments2)[]) {
      drawn.removeFromParent();
      drawn.geometry.dispose();
      for (const material of [drawn.material].flat()) material.dispose();
    }
    const points = [...this.ends, ...(next ? [next] : [])].map(({ point }) => point);
    if (points.length) this.drawn.add(dots(points));
    const [from, to] = points;
    if (from && to) this.drawn.add(line(from, to));
  }
}

function dots(points: Vector3[]): Points {
  const material = new PointsMaterial({ color: COLOUR, size: DOT_PIXELS, sizeAttenuation: false, depthTest: false });
  return new Points(new BufferGeometry().setFromPoints(points), material);
}

function line(from: Vector3, to: Vector3): LineSegments2 {
  const geometry = new LineSegmentsGeometry().setPositions([...from.toArray(), ...to.toArray()]);
  return new LineSegments2(geometry, new LineMaterial({ color: COLOUR, linewidth: LINE_PIXELS, depthTest: false }));
}
