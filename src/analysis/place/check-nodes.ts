import type { LinkModel } from '../link/link-model.ts';

/** Nodes along each axis at which a map is checked against the exact circuit and its band is worked out. */
export const CHECK_POINTS = 5;

/** The nodes of the check that differ, given the model's mirror symmetry: [n, 2] x, y in mm, row-major. */
export function checkNodes(model: LinkModel, xMm: Float64Array, yMm: Float64Array): [number, number][] {
  const line = (axis: Float64Array): number[] => Array.from({ length: CHECK_POINTS }, (_, i) => nodeAt(axis, i));
  return line(yMm).flatMap((y) =>
    line(xMm).flatMap((x): [number, number][] =>
      (model.even.x && x < -1e-9) || (model.even.y && y < -1e-9) ? [] : [[x, y]],
    ),
  );
}

export function nodeAt(axis: Float64Array, index: number): number {
  const first = axis[0]!;
  return first + ((axis[axis.length - 1]! - first) * index) / (CHECK_POINTS - 1);
}
