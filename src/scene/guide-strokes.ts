import type { Guide } from './handles/place.ts';
import type { Vec3 } from './vectors.ts';

/** A point in the picture, CSS pixels; `seen` is false behind the viewer. */
export interface Projected {
  readonly x: number;
  readonly y: number;
  readonly seen: boolean;
}
export type Project = (point: Vec3) => Projected;

/** A line or filled shape in the picture: SVG path data with its look. */
export interface Stroke {
  readonly d: string;
  readonly width: number;
  readonly dash: string;
  readonly opacity: number;
  readonly filled: boolean;
}

const ARROW_LENGTH = 7;
const ARROW_HALF_WIDTH = 2.3;

const LOOK: Readonly<
  Record<Guide['kind'], { readonly width: number; readonly dash: string; readonly opacity: number }>
> = {
  dimension: { width: 1, dash: '', opacity: 0.95 },
  extension: { width: 0.8, dash: '', opacity: 0.55 },
  arc: { width: 1, dash: '', opacity: 0.6 },
  turn: { width: 1.4, dash: '', opacity: 0.95 },
  axis: { width: 0.9, dash: '9 3 2 3', opacity: 0.6 },
};

const n = (value: number): string => value.toFixed(1);

/** An arrow head whose tip is `tip`, pointing away from `from`. */
function arrow(tip: Projected, from: Projected): string {
  const dx = tip.x - from.x;
  const dy = tip.y - from.y;
  const l = Math.hypot(dx, dy) || 1;
  const ux = dx / l;
  const uy = dy / l;
  const bx = tip.x - ux * ARROW_LENGTH;
  const by = tip.y - uy * ARROW_LENGTH;
  const wx = -uy * ARROW_HALF_WIDTH;
  const wy = ux * ARROW_HALF_WIDTH;
  return `M${n(tip.x)} ${n(tip.y)}L${n(bx + wx)} ${n(by + wy)}L${n(bx - wx)} ${n(by - wy)}Z`;
}

/** Arrow heads at both ends. Their direction is taken over a few points, or a curve's heads would look bent. */
function heads(points: readonly Projected[]): string {
  const n = points.length;
  const step = Math.min(n - 1, Math.max(1, Math.round(n / 5)));
  return arrow(points[0]!, points[step]!) + arrow(points[n - 1]!, points[n - 1 - step]!);
}

/** A short slanting tick, where a dimension is too short for arrow heads. */
function tick(at: Projected): string {
  return `M${n(at.x - 3)} ${n(at.y + 3)}L${n(at.x + 3)} ${n(at.y - 3)}`;
}

/** The strokes of a guide as it appears in the picture; none where part of it lies behind the viewer. */
export function guideStrokes(guide: Guide, project: Project): readonly Stroke[] {
  const points = guide.points.map(project);
  if (points.length < 2 || points.some((p) => !p.seen)) return [];
  const look = LOOK[guide.kind];
  const line = `M${points.map((p) => `${n(p.x)} ${n(p.y)}`).join('L')}`;
  const strokes: Stroke[] = [{ d: line, filled: false, ...look }];
  if (guide.kind === 'dimension') {
    const first = points[0]!;
    const last = points[points.length - 1]!;
    const long = Math.hypot(last.x - first.x, last.y - first.y) > 2.6 * ARROW_LENGTH;
    if (long) strokes.push({ d: heads(points), width: 0, dash: '', opacity: look.opacity, filled: true });
    else strokes.push({ d: tick(first) + tick(last), width: 1.2, dash: '', opacity: look.opacity, filled: false });
  }
  if (guide.kind === 'turn')
    strokes.push({ d: heads(points), width: 0, dash: '', opacity: look.opacity, filled: true });
  return strokes;
}
