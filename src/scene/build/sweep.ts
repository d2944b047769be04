import type { MeshWriter } from './mesh-data.ts';
import type { TurnPath } from './turn-path.ts';

/** A point of the swept profile: across the path (towards its right-hand side) and up, metres, with its outward normal. */
export interface ProfilePoint {
  readonly across: number;
  readonly up: number;
  readonly normalAcross: number;
  readonly normalUp: number;
  /** Position around the profile, 0..1, for textures. */
  readonly around: number;
}

/** A closed profile: rows of points joined in order; a repeated point with another normal makes a sharp edge. */
export interface Profile {
  readonly points: readonly ProfilePoint[];
  /** Pairs of neighbouring points that are joined by a face, counter-clockwise looking along the path. */
  readonly faces: readonly (readonly [number, number])[];
}

/** A circle of `sides` corners whose area equals the true circle's, so that strands keep their real width. */
export function roundProfile(radius: number, sides: number): Profile {
  const drawn = radius * Math.sqrt((2 * Math.PI) / (sides * Math.sin((2 * Math.PI) / sides)));
  const points: ProfilePoint[] = [];
  for (let i = 0; i <= sides; i++) {
    const angle = (2 * Math.PI * i) / sides;
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    points.push({ across: drawn * c, up: drawn * s, normalAcross: c, normalUp: s, around: i / sides });
  }
  return { points, faces: Array.from({ length: sides }, (_, i) => [i, i + 1] as const) };
}

/** A rectangle with sharp edges: a printed trace. */
export function flatProfile(width: number, thickness: number): Profile {
  const w = width / 2;
  const t = thickness / 2;
  const side = (nx: number, nu: number, a: readonly [number, number], b: readonly [number, number]): ProfilePoint[] => [
    { across: a[0], up: a[1], normalAcross: nx, normalUp: nu, around: 0 },
    { across: b[0], up: b[1], normalAcross: nx, normalUp: nu, around: 1 },
  ];
  return {
    points: [
      ...side(1, 0, [w, -t], [w, t]),
      ...side(0, 1, [w, t], [-w, t]),
      ...side(-1, 0, [-w, t], [-w, -t]),
      ...side(0, -1, [-w, -t], [w, -t]),
    ],
    faces: [
      [0, 1],
      [2, 3],
      [4, 5],
      [6, 7],
    ],
  };
}

function unit(x: number, y: number): readonly [number, number] | null {
  const l = Math.hypot(x, y);
  return l > 1e-12 ? [x / l, y / l] : null;
}

/** A mitre longer than this many half-widths is cut short: a turn that doubles back must not grow a spike. */
const MITRE_LIMIT = 3;

/**
 * Sweeps a profile along a path in a plane z = const. Corners are mitred; an open path is closed by flat caps.
 * @param out receives vertices and triangles; u runs around the profile (0..1), v is the length along the path, m.
 */
export function sweep(path: TurnPath, z: number, profile: Profile, out: MeshWriter): void {
  const { points, closed } = path;
  const n = points.length / 2;
  if (n < 2) return;
  const rows = closed ? n + 1 : n;
  const rowStart: number[] = [];
  let length = 0;
  for (let row = 0; row < rows; row++) {
    const i = row % n;
    const before = closed ? (i + n - 1) % n : Math.max(0, i - 1);
    const after = closed ? (i + 1) % n : Math.min(n - 1, i + 1);
    const x = points[2 * i]!;
    const y = points[2 * i + 1]!;
    if (row > 0) {
      const j = (i + n - 1) % n;
      length += Math.hypot(x - points[2 * j]!, y - points[2 * j + 1]!);
    }
    const from = unit(x - points[2 * before]!, y - points[2 * before + 1]!);
    const to = unit(points[2 * after]! - x, points[2 * after + 1]! - y);
    // At the ends of an open path one of the two is missing.
    const [ax, ay] = from ?? to ?? [1, 0];
    const [bx, by] = to ?? from ?? [1, 0];
    const [tx, ty] = unit(ax + bx, ay + by) ?? [ax, ay];
    // The half-length of the sum is the cosine of half the turning angle.
    const mitre = Math.min(MITRE_LIMIT, 2 / Math.max(1e-9, Math.hypot(ax + bx, ay + by)));
    // Right-hand side of the direction of travel: outside of a counter-clockwise turn.
    const rx = ty;
    const ry = -tx;
    rowStart.push(-1);
    for (const p of profile.points) {
      const across = p.across * mitre;
      const index = out.vertex(
        x + rx * across,
        y + ry * across,
        z + p.up,
        rx * p.normalAcross,
        ry * p.normalAcross,
        p.normalUp,
        p.around,
        length,
      );
      if (rowStart[row] === -1) rowStart[row] = index;
    }
  }
  for (let row = 0; row + 1 < rows; row++) {
    const a = rowStart[row]!;
    const b = rowStart[row + 1]!;
    for (const [p, q] of profile.faces) out.quad(a + p, b + p, b + q, a + q);
  }
  if (!closed) {
    cap(points, 0, 1, z, profile, -1, out);
    cap(points, n - 1, n - 2, z, profile, 1, out);
  }
}

/** A flat end at point `i`, whose neighbour is `j`; `sign` +1 at the far end of the path. */
function cap(
  points: Float64Array,
  i: number,
  j: number,
  z: number,
  profile: Profile,
  sign: 1 | -1,
  out: MeshWriter,
): void {
  const x = points[2 * i]!;
  const y = points[2 * i + 1]!;
  const [tx, ty] = unit((x - points[2 * j]!) * sign, (y - points[2 * j + 1]!) * sign) ?? [1, 0];
  const centre = out.vertex(x, y, z, tx * sign, ty * sign, 0);
  for (const [p, q] of profile.faces) {
    const put = (k: number): number => {
      const c = profile.points[k]!;
      return out.vertex(x + ty * c.across, y - tx * c.across, z + c.up, tx * sign, ty * sign, 0);
    };
    const a = put(p);
    const b = put(q);
    if (sign > 0) out.triangle(centre, b, a);
    else out.triangle(centre, a, b);
  }
}
