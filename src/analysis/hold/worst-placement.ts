/** The least margin that a recess still allows, and where. */
import { playAllows, playAlongX, playBox, type RecessPlay } from './recess-play.ts';

/** Margin in percent at an offset of the coils in mm and a turn in rad. */
export type MarginAt = (xMm: number, yMm: number, yaw: number) => number;

export interface WorstPlacement {
  readonly xMm: number;
  readonly yMm: number;
  readonly yaw: number;
  readonly marginPercent: number;
  /** For people: `+x -y corner, turned +2.1 degrees`. */
  readonly name: string;
  readonly evaluations: number;
}

export interface WorstOptions {
  /** Turns looked at from end to end, odd. */
  readonly yawSteps: number;
  /** Offsets looked at along each half-axis. */
  readonly offsetSteps: number;
  /** Candidates polished by a pattern search. */
  readonly candidates: number;
  /** Step at which polishing ends, as a share of the play. */
  readonly finest: number;
}

export const WORST_DEFAULTS: WorstOptions = Object.freeze({
  yawSteps: 7,
  offsetSteps: 3,
  candidates: 3,
  finest: 1e-4,
});

interface Candidate {
  yaw: number;
  /** Device's offset in the pocket. */
  x: number;
  y: number;
  /** Coil's offset in device and dock together. */
  u: number;
  v: number;
  margin: number;
}

/**
 * Least margin over all placements that the recess allows, with the coils up to `coilPositionMm` off their place in any
 * direction.
 * @param play from `recessPlay`. @param coilPositionMm >= 0. @param marginAt callback, percent. @param centreMm where the
 * middle of the pocket is, against the transmitter's axis.
 *
 * Looks at the edges, corners and inside of the free set over a range of turns (inside too: a strong supply can overfeed
 * the receiver when centred), then polishes the worst few by a pattern search that never leaves the set. Symmetric play is
 * looked at on both sides because the margin need not be symmetric.
 */
export function worstPlacement(
  play: RecessPlay,
  coilPositionMm: number,
  marginAt: MarginAt,
  options: Partial<WorstOptions> = {},
  centreMm: readonly [number, number] = [0, 0],
): WorstPlacement {
  const { yawSteps, offsetSteps, candidates, finest } = { ...WORST_DEFAULTS, ...options };
  let evaluations = 0;
  const evaluate = (c: Omit<Candidate, 'margin'>): Candidate => {
    evaluations += 1;
    const value = marginAt(centreMm[0] + c.x + c.u, centreMm[1] + c.y + c.v, c.yaw);
    return { ...c, margin: Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value };
  };
  const best: Candidate[] = [];
  const keep = (c: Candidate) => {
    best.push(c);
    best.sort((a, b) => a.margin - b.margin);
    if (best.length > candidates) best.pop();
  };
  const turn = Number.isNaN(play.largestYaw) ? 0 : play.largestYaw;
  const half = (yawSteps - 1) / 2;
  for (let i = -half; i <= half; i += 1) {
    // A hair inside the largest turn, where the free set is not yet a single point lost to rounding.
    const yaw = (turn * (1 - 1e-9) * i) / Math.max(1, half);
    for (const [x, y] of offsetsAt(play, yaw, offsetSteps)) {
      keep(evaluate({ yaw, x, y, u: 0, v: 0 }));
      if (coilPositionMm > 0) {
        const away = Math.hypot(x, y);
        const angle = away > 0 ? Math.atan2(y, x) : 0;
        for (const swing of away > 0 ? [0, 0.5, -0.5, Math.PI] : [0, 1.5, 3, 4.5])
          keep(
            evaluate({
              yaw,
              x,
              y,
              u: coilPositionMm * Math.cos(angle + swing),
              v: coilPositionMm * Math.sin(angle + swing),
            }),
          );
      }
    }
  }
  const box = playBox(play, 0) ?? { halfXMm: 0, halfYMm: 0 };
  let worst = best[0] ?? evaluate({ yaw: 0, x: 0, y: 0, u: 0, v: 0 });
  for (const start of best) {
    const polished = polish(start, play, coilPositionMm, box, turn, finest, evaluate);
    if (polished.margin < worst.margin) worst = polished;
  }
  // Where the turn does not matter (round coils) none is named.
  if (worst.yaw !== 0 && playAllows(play, worst.x, worst.y, 0)) {
    const level = evaluate({ ...worst, yaw: 0 });
    if (level.margin <= worst.margin + 1e-6 * (1 + Math.abs(worst.margin))) worst = level;
  }
  return {
    xMm: centreMm[0] + worst.x + worst.u,
    yMm: centreMm[1] + worst.y + worst.v,
    yaw: worst.yaw,
    marginPercent: worst.margin,
    name: placementName(worst.x + worst.u, worst.y + worst.v, worst.yaw),
    evaluations,
  };
}

/** Offsets at one turn: rows of the free set, their ends and points between. */
function offsetsAt(play: RecessPlay, yaw: number, steps: number): [number, number][] {
  const box = playBox(play, yaw);
  if (!box) return [];
  const out: [number, number][] = [];
  for (let j = -steps; j <= steps; j += 1) {
    const y = (box.halfYMm * j) / steps;
    const row = playAlongX(play, y, yaw) ?? playAlongX(play, y * (1 - 1e-9), yaw);
    if (!row) continue;
    for (let i = 0; i <= 2 * steps; i += 1) out.push([row.from + ((row.to - row.from) * i) / (2 * steps), y]);
  }
  return out;
}

/** Compass search in offset, turn and coil position, each trial brought back into what is allowed. */
function polish(
  start: Candidate,
  play: RecessPlay,
  coil: number,
  box: { readonly halfXMm: number; readonly halfYMm: number },
  turn: number,
  finest: number,
  evaluate: (c: Omit<Candidate, 'margin'>) => Candidate,
): Candidate {
  let here = start;
  for (let step = 0.25; step > finest; ) {
    let moved = false;
    const trials: [number, number, number, number][] = [
      [1, 0, 0, 0],
      [-1, 0, 0, 0],
      [0, 1, 0, 0],
      [0, -1, 0, 0],
      [0, 0, 1, 0],
      [0, 0, -1, 0],
    ];
    if (coil > 0) trials.push([0, 0, 0, 1], [0, 0, 0, -1]);
    for (const [dx, dy, dYaw, dAngle] of trials) {
      const yaw = Math.max(-turn, Math.min(turn, here.yaw + dYaw * step * turn));
      const x = here.x + dx * step * box.halfXMm;
      const y = here.y + dy * step * box.halfYMm;
      const place = bringIn(play, x, y, yaw);
      if (!place) continue;
      const size = Math.hypot(here.u, here.v);
      const angle = Math.atan2(here.v, here.u) + dAngle * step * 3;
      const u = dAngle === 0 ? here.u : (size || coil) * Math.cos(angle);
      const v = dAngle === 0 ? here.v : (size || coil) * Math.sin(angle);
      const trial = evaluate({ yaw, x: place[0], y: place[1], u, v });
      if (trial.margin < here.margin) {
        here = trial;
        moved = true;
        break;
      }
    }
    if (!moved) step /= 2;
  }
  return here;
}

/** The point itself, or the nearest allowed one along first y then x. */
function bringIn(play: RecessPlay, x: number, y: number, yaw: number): [number, number] | null {
  if (playAllows(play, x, y, yaw)) return [x, y];
  const box = playBox(play, yaw);
  if (!box) return null;
  const row = Math.max(-box.halfYMm, Math.min(box.halfYMm, y));
  const interval = playAlongX(play, row, yaw) ?? playAlongX(play, row * (1 - 1e-9), yaw);
  if (!interval) return null;
  return [Math.max(interval.from, Math.min(interval.to, x)), row];
}

/** Names a placement by its side or corner and turn. */
export function placementName(x: number, y: number, yaw: number): string {
  const size = Math.max(Math.abs(x), Math.abs(y));
  const part = (value: number, axis: string) =>
    size > 0 && Math.abs(value) > 0.3 * size ? `${value > 0 ? '+' : '-'}${axis}` : '';
  const words = [part(x, 'x'), part(y, 'y')].filter((w) => w !== '');
  const where = words.length === 2 ? `${words.join(' ')} corner` : words.length === 1 ? `${words[0]} side` : 'centre';
  const degrees = (yaw * 180) / Math.PI;
  if (Math.abs(degrees) < 0.05) return `${where}, not turned`;
  return `${where}, turned ${degrees > 0 ? '+' : '-'}${Math.abs(degrees).toFixed(1)} degrees`;
}
