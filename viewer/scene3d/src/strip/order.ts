/** Where the units of a row stand while one of them is dragged. All lengths in mm of the kitchen. */

export interface Standing {
  readonly left: number;
  readonly right: number;
}

/** The place that a unit, moved by `across`, would take: past every neighbour of which it covers half. */
export function placeFor(units: readonly Standing[], from: number, across: number): number {
  const { left, right } = units[from] ?? { left: 0, right: 0 };
  const passed = (unit: Standing, i: number) => {
    const middle = (unit.left + unit.right) / 2;
    return i > from ? Number(right + across > middle) : i < from ? -Number(left + across < middle) : 0;
  };
  return from + units.reduce((sum, unit, i) => sum + passed(unit, i), 0);
}

/** By how much each unit shifts to the right where the one at `from` goes to the place `to`. */
export function shifts(units: readonly Standing[], from: number, to: number): number[] {
  const order = units.map((_, i) => i);
  order.splice(to, 0, ...order.splice(from, 1));
  const shifted = units.map(() => 0);
  let at = units[0]?.left ?? 0;
  for (const i of order) {
    const { left, right } = units[i]!;
    shifted[i] = at - left;
    at += right - left;
  }
  return shifted;
}
