/** Where people put the device: random placements, with and without an aid. */
import { InputError } from '../../numerics/errors.ts';
import { type RandomSource, randomSource } from '../../numerics/random.ts';
import { playAllows, playAlongX, playBox, type RecessPlay } from './recess-play.ts';

/** How a casual placement scatters. Lengths in mm, turns in rad, about the intended place. */
export type Placing =
  | { readonly kind: 'gaussian'; readonly sigmaXMm: number; readonly sigmaYMm: number; readonly sigmaYaw: number }
  | { readonly kind: 'disc'; readonly radiusMm: number; readonly halfYaw: number }
  | { readonly kind: 'rectangle'; readonly halfXMm: number; readonly halfYMm: number; readonly halfYaw: number }
  | { readonly kind: 'list'; readonly xMm: Float64Array; readonly yMm: Float64Array; readonly yaw: Float64Array };

/** Placements: three arrays of one length. */
export interface Placements {
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  readonly yaw: Float64Array;
}

/** Changes placements in place: what an aid (magnets) makes of them. */
export type Aid = (placements: Placements) => void;

/** Checks a placing. @throws InputError */
export function checkPlacing(placing: Placing): void {
  const need = (ok: boolean, path: string, received: string) => {
    if (!ok)
      throw new InputError({ code: 'placing', path: `holding.placing.${path}`, required: 'a size >= 0', received });
  };
  if (placing.kind === 'list') {
    const n = placing.xMm.length;
    if (n < 1 || placing.yMm.length !== n || placing.yaw.length !== n)
      throw new InputError({
        code: 'placing-list',
        path: 'holding.placing',
        required: 'at least one placement with x, y and yaw each',
        received: `${placing.xMm.length}, ${placing.yMm.length} and ${placing.yaw.length} values`,
      });
    return;
  }
  for (const [key, value] of Object.entries(placing))
    if (typeof value === 'number') need(value >= 0 && Number.isFinite(value), key, `${value}`);
}

/**
 * Draws `count` placements (a list is taken as it is, repeated never).
 * @param seed the same seed gives the same placements.
 * @param recess play that limits them: the scatter is cut off where the walls are, exactly (the part of the distribution that
 * lies within the play, at its own odds). Null: free.
 */
export function drawPlacements(placing: Placing, count: number, seed: number, recess: RecessPlay | null): Placements {
  checkPlacing(placing);
  if (placing.kind === 'list') {
    const copy = { xMm: placing.xMm.slice(), yMm: placing.yMm.slice(), yaw: placing.yaw.slice() };
    if (recess) pressIntoRecess(copy, recess);
    return copy;
  }
  const out = { xMm: new Float64Array(count), yMm: new Float64Array(count), yaw: new Float64Array(count) };
  const random = randomSource(seed);
  if (recess) drawInRecess(placing, random, recess, out);
  else drawFree(placing, random, out);
  return out;
}

function drawFree(placing: Exclude<Placing, { kind: 'list' }>, random: RandomSource, out: Placements): void {
  const { xMm, yMm, yaw } = out;
  for (let k = 0; k < xMm.length; k += 1) {
    if (placing.kind === 'gaussian') {
      xMm[k] = placing.sigmaXMm * random.normal();
      yMm[k] = placing.sigmaYMm * random.normal();
      yaw[k] = placing.sigmaYaw * random.normal();
    } else if (placing.kind === 'disc') {
      const r = placing.radiusMm * Math.sqrt(random.uniform());
      const angle = 2 * Math.PI * random.uniform();
      xMm[k] = r * Math.cos(angle);
      yMm[k] = r * Math.sin(angle);
      yaw[k] = placing.halfYaw * (2 * random.uniform() - 1);
    } else {
      xMm[k] = placing.halfXMm * (2 * random.uniform() - 1);
      yMm[k] = placing.halfYMm * (2 * random.uniform() - 1);
      yaw[k] = placing.halfYaw * (2 * random.uniform() - 1);
    }
  }
}

/** Draws one coordinate; NaN where the proposal was not kept. */
interface Proposal {
  readonly draw: (random: RandomSource) => number;
}

/** A coordinate that follows the placing (bell of `sigma`, or even over +-`spread`) within +-`half`. */
function proposal(sigma: number | null, spread: number, half: number): Proposal {
  const reach = Math.min(half, sigma === null ? spread : Number.POSITIVE_INFINITY);
  if (sigma === null) return { draw: (random) => reach * (2 * random.uniform() - 1) };
  if (sigma === 0) return { draw: () => 0 };
  // In a narrow pocket even proposals kept at the bell's height, in a wide one bell proposals kept inside: both exact.
  if (half < 1.5 * sigma)
    return {
      draw: (random) => {
        const value = half * (2 * random.uniform() - 1);
        const z = value / sigma;
        return random.uniform() < Math.exp(-0.5 * z * z) ? value : Number.NaN;
      },
    };
  return {
    draw: (random) => {
      const value = sigma * random.normal();
      return Math.abs(value) <= half ? value : Number.NaN;
    },
  };
}

/** The scatter cut off by the walls, by rejection from a box around the play: exact. */
function drawInRecess(
  placing: Exclude<Placing, { kind: 'list' }>,
  random: RandomSource,
  recess: RecessPlay,
  out: Placements,
): void {
  const limit = Number.isNaN(recess.largestYaw) ? 0 : recess.largestYaw;
  const { device, room } = recess;
  const a = device.halfWidthMm - device.cornerRadiusMm;
  const b = device.halfHeightMm - device.cornerRadiusMm;
  // The device's half-extent a cos + b sin has its least value over the turns at one end of them.
  const quarter = Math.min(limit, Math.PI / 2);
  const halfX = Math.max(0, room.halfWidthMm - Math.min(a, a * Math.cos(quarter) + b * Math.sin(quarter)));
  const halfY = Math.max(0, room.halfHeightMm - Math.min(b, b * Math.cos(quarter) + a * Math.sin(quarter)));
  const gaussian = placing.kind === 'gaussian';
  const disc = placing.kind === 'disc' ? placing.radiusMm : Number.POSITIVE_INFINITY;
  const spreadX = gaussian ? 0 : placing.kind === 'disc' ? placing.radiusMm : placing.halfXMm;
  const spreadY = gaussian ? 0 : placing.kind === 'disc' ? placing.radiusMm : placing.halfYMm;
  const alongX = proposal(gaussian ? placing.sigmaXMm : null, spreadX, halfX);
  const alongY = proposal(gaussian ? placing.sigmaYMm : null, spreadY, halfY);
  const turning = proposal(gaussian ? placing.sigmaYaw : null, gaussian ? 0 : placing.halfYaw, limit);
  for (let k = 0; k < out.xMm.length; k += 1) {
    // A play too thin to be hit (no clearance) leaves the middle.
    for (let tries = 0; tries < 20000; tries += 1) {
      const yaw = turning.draw(random);
      const x = alongX.draw(random);
      const y = alongY.draw(random);
      if (!playAllows(recess, x, y, yaw) || Math.hypot(x, y) > disc) continue;
      out.xMm[k] = x;
      out.yMm[k] = y;
      out.yaw[k] = yaw;
      break;
    }
  }
}

/** A user's own placements pressed into the pocket: turn first, then y, then x to the nearest that is allowed. */
export function pressIntoRecess(placements: Placements, recess: RecessPlay): void {
  const limit = Number.isNaN(recess.largestYaw) ? 0 : recess.largestYaw * (1 - 1e-12);
  for (let k = 0; k < placements.xMm.length; k += 1) {
    const yaw = Math.max(-limit, Math.min(limit, placements.yaw[k]));
    const box = playBox(recess, yaw) ?? { halfXMm: 0, halfYMm: 0 };
    const y = Math.max(-box.halfYMm, Math.min(box.halfYMm, placements.yMm[k]));
    const row = playAlongX(recess, y, yaw) ?? { from: 0, to: 0 };
    placements.yaw[k] = yaw;
    placements.yMm[k] = y;
    placements.xMm[k] = Math.max(row.from, Math.min(row.to, placements.xMm[k]));
  }
}
