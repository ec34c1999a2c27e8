/** Marks on parts: those that Python asks to highlight, and the one that was picked. */

import { Color, Vector3 } from "three";
import type { EdgesGeometry, MeshStandardMaterial } from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { copyOf } from "./look";
import { isRoom } from "./model";
import type { Model, Part, Surface } from "./model";
import type { Shapes } from "./shapes";

interface Style {
  readonly tint: Color;
  readonly line: number;
  readonly dashed: boolean;
}

/** Beside its colour each mark has a line of its own, dashed or drawn through: colour is never the only sign. */
const HIGHLIGHT: Style = { tint: new Color(0xf59e0b), line: 0xb45309, dashed: true };
const PICKED: Style = { tint: new Color(0x14b8a6), line: 0x0f766e, dashed: false };
const STRENGTH = 0.6;
const LINE_PIXELS = 2.5;
const DASH = 0.06;

export class Marks {
  private readonly undo: (() => void)[] = [];
  private marked = new Set<string>();

  constructor(
    private readonly model: Model,
    private readonly shapes: Shapes,
  ) {}

  show(highlight: readonly string[], picked: string | null): void {
    this.clear();
    this.marked = new Set([...highlight, ...(picked === null ? [] : [picked])]);
    for (const id of this.marked) {
      const part = this.model.parts.get(id);
      if (part) this.mark(part, id === picked ? PICKED : HIGHLIGHT);
    }
  }

  has(part: Part): boolean {
    return this.marked.has(part.id);
  }

  clear(): void {
    while (this.undo.length) this.undo.pop()?.();
  }

  private mark(part: Part, style: Style): void {
    for (const surface of part.surfaces) {
      const outline = outlined(surface, this.shapes.edgesOf(surface), style);
      const before = surface.material;
      // A floor in full colour would shout; for the room the outline is enough, and the kitchen stands before it.
      surface.material = isRoom(part) ? copyOf(before) : tinted(before, style);
      outline.material.depthTest = isRoom(part);
      surface.add(outline);
      this.undo.push(() => {
        surface.remove(outline);
        outline.geometry.dispose();
        outline.material.dispose();
        surface.material.dispose();
        surface.material = before;
      });
    }
  }
}

function tinted(material: MeshStandardMaterial, style: Style): MeshStandardMaterial {
  const result = copyOf(material);
  result.color.lerp(style.tint, STRENGTH);
  result.emissive.copy(style.tint);
  result.emissiveIntensity = 0.22;
  return result;
}

function outlined(surface: Surface, edges: EdgesGeometry, style: Style): LineSegments2 {
  const material = new LineMaterial({
    color: style.line,
    linewidth: LINE_PIXELS,
    dashed: style.dashed,
    dashSize: DASH,
    gapSize: DASH * 0.5,
    // A mesh may be in millimetres under a node that makes metres of them; dashes are in metres.
    dashScale: surface.getWorldScale(new Vector3()).x,
    // Seen through what stands in front: a part inside a unit must be found as well.
    depthTest: false,
    transparent: true,
  });
  const lines = new LineSegments2(new LineSegmentsGeometry().fromEdgesGeometry(edges), material);
  lines.computeLineDistances();
  lines.raycast = () => undefined;
  lines.renderOrder = 1;
  return lines;
}
