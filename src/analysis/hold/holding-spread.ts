/** How far pull, capture radius and rest band may be off, by what nobody knows well: friction and remanence. */
import type { Design } from '../../design/types.ts';
import type { SidewaysForce } from '../../physics/magnet/pair-profile.ts';
import type { Uncertain } from '../types.ts';
import { type HoldingAnswer, type HoldingBody, type HoldingOptions, holdDevice } from './holding.ts';

export interface HoldingSpread {
  readonly pullN: Uncertain;
  readonly captureMm: Uncertain;
  /** `high` null: with more friction it may stop anywhere. */
  readonly restMm: { readonly low: number; readonly high: number | null } | null;
}

/** Relative half-widths of friction and remanence, stated and taken as default. Common practice, no source. */
const FRICTION = { stated: 0.2, assumed: 0.4 } as const;
const REMANENCE = { stated: 0.05, assumed: 0.1 } as const;

/**
 * One at a time, each end; the changes add as root of squares on either side. Forces go with the square of the remanence, which
 * both discs of a pair share.
 */
export function holdingSpread(
  design: Pick<Design, 'assumed'>,
  force: SidewaysForce,
  body: HoldingBody,
  options: Partial<HoldingOptions>,
  nominal: HoldingAnswer,
): HoldingSpread {
  const assumed = new Set(design.assumed ?? []);
  const friction = FRICTION[assumed.has('holding.friction') ? 'assumed' : 'stated'];
  const remanence = REMANENCE[assumed.has('holding.magnets.remanenceT') ? 'assumed' : 'stated'];
  const scaled =
    (factor: number): SidewaysForce =>
    (x, y, yaw, out) => {
      force(x, y, yaw, out);
      for (let k = 0; k < 4; k += 1) out[k] *= factor;
      return out;
    };
  const answers = [-1, 1].flatMap((sign) => [
    holdDevice(force, { ...body, friction: body.friction * (1 + sign * friction) }, options),
    holdDevice(scaled((1 + sign * remanence) ** 2), body, options),
  ]);
  const spread = (pick: (answer: HoldingAnswer) => number): Uncertain => {
    const value = pick(nominal);
    const side = (sign: 1 | -1) =>
      Math.sqrt(answers.reduce((sum, answer) => sum + Math.max(0, sign * (pick(answer) - value)) ** 2, 0));
    return { value, low: value - side(-1), high: value + side(1) };
  };
  const far = Number.POSITIVE_INFINITY;
  const rest = nominal.restBandMm === null ? null : spread((answer) => answer.restBandMm ?? far);
  const capture = spread((answer) => answer.captureRadiusMm);
  return {
    pullN: spread((answer) => answer.pullN),
    captureMm: { ...capture, low: Math.max(0, capture.low) },
    restMm: rest && { low: Math.max(0, rest.low), high: Number.isFinite(rest.high) ? rest.high : null },
  };
}
