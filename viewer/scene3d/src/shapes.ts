/** Shapes on show, by the name of their piece: of the next kitchen only those are new that it changes. */

import { EdgesGeometry } from "three";
import type { BufferGeometry } from "three";
import type { Model, Surface } from "./model";

const EDGE_DEGREES = 25;

interface Shape {
  readonly geometry: BufferGeometry;
  readonly edges: EdgesGeometry;
}

export class Shapes {
  private shapes = new Map<string, Shape>();

  /** Put what is there already into the surfaces of a model, add what is new, and free what it does not need. */
  fit(model: Model): void {
    const before = this.shapes;
    this.shapes = new Map();
    for (const part of model.parts.values())
      for (const surface of part.surfaces) {
        const name = nameOf(surface);
        const shape = this.shapes.get(name) ?? before.get(name) ?? shapeOf(surface.geometry);
        this.shapes.set(name, shape);
        surface.geometry = shape.geometry;
      }
    for (const [name, shape] of before) if (!this.shapes.has(name)) free(shape);
  }

  edgesOf(surface: Surface): EdgesGeometry {
    return this.shapes.get(nameOf(surface))!.edges;
  }

  empty(): void {
    for (const shape of this.shapes.values()) free(shape);
    this.shapes.clear();
  }
}

function nameOf(surface: Surface): string {
  return String(surface.userData["shape"]);
}

function shapeOf(geometry: BufferGeometry): Shape {
  return { geometry, edges: new EdgesGeometry(geometry, EDGE_DEGREES) };
}

function free({ geometry, edges }: Shape): void {
  geometry.dispose();
  edges.dispose();
}
