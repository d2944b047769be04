import { isMirrored } from '../../physics/coil/mirrored.ts';
import type { LinkSide } from '../../physics/field/types.ts';

/**
 * Attitudes from which all others follow: turns spread evenly over a period, and at each of them tilts in parts of the
 * largest one allowed at that gap.
 */
export interface AttitudeSamples {
  /** Turn after which the link is as before, rad. */
  readonly period: number;
  readonly turns: number;
  /** Tilts about x and y in parts of the largest. */
  readonly tilts: readonly (readonly [number, number])[];
}

/** One turn over a period: enough for plates with corners, the harmonics beyond it are below a ten-thousandth of L. */
const TURNS = 8;
/** What a tilt does depends on the turn less sharply. */
const TURNS_TILTED = 4;
const LEVEL: AttitudeSamples['tilts'] = [[0, 0]];
/** The least that gives a quadratic in two variables. */
const QUADRATIC: AttitudeSamples['tilts'] = [
  [0, 0],
  [1, 0],
  [-1, 0],
  [0, 1],
  [0, -1],
  [1, 1],
];

/** Whether turning a side about its axis changes nothing. */
function isRound({ winding, ferrite, metal }: LinkSide): boolean {
  const round = [winding.spec.outline, ferrite?.outline, metal?.outline].every(
    (outline) => outline === undefined || outline.shape === 'circle',
  );
  return round && winding.spec.winding === 'rings';
}

/** Samples of the turn alone, and of the tilts at fewer turns. */
export function attitudeSamples(receiver: LinkSide): {
  readonly turned: AttitudeSamples;
  readonly tilted: AttitudeSamples;
} {
  const halfTurn = isMirrored(receiver.winding);
  const period = halfTurn ? Math.PI : 2 * Math.PI;
  const turns = (count: number) => (isRound(receiver) ? 1 : halfTurn ? count : 2 * count);
  return {
    turned: { period, turns: turns(TURNS), tilts: LEVEL },
    tilted: { period, turns: turns(TURNS_TILTED), tilts: QUADRATIC },
  };
}

/**
 * Weights of the samples at an attitude, [turns, tilts] row-major: trigonometric interpolation over the turn, quadratic
 * over the tilts. With `sub` those of the level receiver are taken off, so that only what the tilt adds remains.
 *
 * @param tiltX tiltY in parts of the largest tilt
 */
export function sampleWeights(
  samples: AttitudeSamples,
  yaw: number,
  tiltX: number,
  tiltY: number,
  sub: boolean,
): Float64Array {
  const { period, turns, tilts } = samples;
  const out = new Float64Array(turns * tilts.length);
  const overTilts = tilts.length === 1 ? [1] : quadraticWeights(tiltX, tiltY);
  if (sub) overTilts[0]! -= 1;
  for (let k = 0; k < turns; k++) {
    const phase = 2 * Math.PI * (yaw / period - k / turns);
    let weight = 1;
    for (let m = 1; 2 * m <= turns; m++) weight += (2 * m === turns ? 1 : 2) * Math.cos(m * phase);
    for (const [s, share] of overTilts.entries()) out[k * tilts.length + s] = (weight / turns) * share;
  }
  return out;
}

/** In the order of QUADRATIC. */
function quadraticWeights(x: number, y: number): number[] {
  const cross = x * y;
  return [
    1 - x * x - y * y + cross,
    (x + x * x) / 2 - cross,
    (x * x - x) / 2,
    (y + y * y) / 2 - cross,
    (y * y - y) / 2,
    cross,
  ];
}
