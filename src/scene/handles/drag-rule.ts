import { cross, dot, norm, scale, subtract, unit, type Vec3 } from '../vectors.ts';

/** The line of sight under the pointer, in the frame and unit of the rule. `direction` has unit length. */
export interface Ray {
  readonly origin: Vec3;
  readonly direction: Vec3;
}

/** How a pointer's movement becomes a change of value. */
export type DragRule =
  /** Along a line through the handle; `perMetre` is the change of value for a metre along `direction` (unit length). */
  | { readonly kind: 'axis'; readonly through: Vec3; readonly direction: Vec3; readonly perMetre: number }
  /** Sideways, in the plane of the table through the handle. */
  | { readonly kind: 'plane'; readonly through: Vec3 }
  /** About an axis, right-handed, rad; `through` is where the handle stands on its circle. */
  | { readonly kind: 'angle'; readonly centre: Vec3; readonly axis: Vec3; readonly through: Vec3 };

/** Below this sine between line of sight and plane, the plane is seen edge-on and its intersection is worthless. */
const EDGE_ON = 0.17;

function meetPlane(ray: Ray, through: Vec3, normal: Vec3): Vec3 | null {
  const slope = dot(ray.direction, normal);
  if (Math.abs(slope) < 1e-9) return null;
  const t = dot(subtract(through, ray.origin), normal) / slope;
  return [
    ray.origin[0] + t * ray.direction[0],
    ray.origin[1] + t * ray.direction[1],
    ray.origin[2] + t * ray.direction[2],
  ];
}

/** Distance along a line at which it passes nearest to the ray; NaN where the two are parallel. */
function alongLine(ray: Ray, through: Vec3, direction: Vec3): number {
  const b = dot(direction, ray.direction);
  const det = 1 - b * b;
  if (det < 1e-6) return Number.NaN;
  const w = subtract(ray.origin, through);
  return (dot(w, direction) - b * dot(w, ray.direction)) / det;
}

/**
 * Where a ray stands in a rule's own coordinates: [distance], [x, y] or [angle]. Only differences mean anything: take
 * one at the grab and one for each movement. A rule seen edge-on follows the one direction that can still be seen.
 * @returns null where nothing can be told (looking straight along an axis).
 */
export function dragCoordinate(rule: DragRule, ray: Ray): readonly [number, number] | null {
  switch (rule.kind) {
    case 'axis': {
      const t = alongLine(ray, rule.through, rule.direction);
      return Number.isNaN(t) ? null : [t * rule.perMetre, 0];
    }
    case 'plane': {
      if (Math.abs(ray.direction[2]) >= EDGE_ON) {
        const p = meetPlane(ray, rule.through, [0, 0, 1]);
        return p === null ? null : [p[0], p[1]];
      }
      const across = unit([ray.direction[1], -ray.direction[0], 0]);
      const t = alongLine(ray, rule.through, across);
      return [rule.through[0] + t * across[0], rule.through[1] + t * across[1]];
    }
    case 'angle': {
      const arm = subtract(rule.through, rule.centre);
      const radius = norm(arm);
      const start = unit(arm);
      const side = unit(cross(rule.axis, start));
      if (Math.abs(dot(ray.direction, rule.axis)) >= EDGE_ON) {
        const p = meetPlane(ray, rule.centre, rule.axis);
        if (p === null) return null;
        const d = subtract(p, rule.centre);
        return [Math.atan2(dot(d, side), dot(d, start)), 0];
      }
      const t = alongLine(ray, rule.through, side);
      return Number.isNaN(t) || radius === 0 ? null : [t / radius, 0];
    }
  }
}

/** Whether a rule can be followed from this line of sight: false where its handle would move towards the viewer. */
export function canFollow(rule: DragRule, sight: Vec3): boolean {
  switch (rule.kind) {
    case 'axis':
      return norm(cross(rule.direction, sight)) > 0.12;
    case 'plane':
      return true;
    case 'angle': {
      const side = unit(cross(rule.axis, subtract(rule.through, rule.centre)));
      return norm(cross(side, sight)) > 0.12;
    }
  }
}

/** The difference of two angles, brought into (-pi, pi]. */
export function angleDifference(to: number, from: number): number {
  const d = (to - from) % (2 * Math.PI);
  return d > Math.PI ? d - 2 * Math.PI : d <= -Math.PI ? d + 2 * Math.PI : d;
}

/** A guide along a circle: points from angle `from` to `to` (rad, measured from `start` about `axis`). */
export function arcPoints(centre: Vec3, axis: Vec3, start: Vec3, from: number, to: number): Vec3[] {
  const side = cross(axis, start);
  const steps = Math.max(2, Math.ceil(Math.abs(to - from) / (Math.PI / 60)));
  return Array.from({ length: steps + 1 }, (_, i) => {
    const a = from + ((to - from) * i) / steps;
    const p = scale(start, Math.cos(a));
    const q = scale(side, Math.sin(a));
    return [centre[0] + p[0] + q[0], centre[1] + p[1] + q[1], centre[2] + p[2] + q[2]] as const;
  });
}
