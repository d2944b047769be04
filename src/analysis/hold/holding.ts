/** What magnets do against weight and friction: where the device slides home and where it stays put. */
import { InputError } from '../../numerics/errors.ts';
import type { SidewaysForce } from '../../physics/magnet/pair-profile.ts';

/** Standard acceleration of gravity, m/s^2. ISO 80000-3. */
export const GRAVITY = 9.80665;

export interface HoldingBody {
  readonly massKg: number;
  /** Coefficient of friction between device and dock. */
  readonly friction: number;
  /** Slope of the resting surface, rad, 0 to pi/2. The downhill direction is taken as the worst one everywhere. */
  readonly slope: number;
  /**
   * Mean radius at which the device rests, m: friction's arm against turning. For an even contact of radius R it is 2R/3
   * (textbook).
   */
  readonly contactRadius: number;
}

export interface HoldingOptions {
  /** Directions looked at. */
  readonly directions: number;
  /** Largest offset looked at, m. */
  readonly reach: number;
  /** Steps from home to the reach. */
  readonly steps: number;
}

export const HOLDING_DEFAULTS: HoldingOptions = Object.freeze({ directions: 48, reach: 0.03, steps: 150 });

export interface HoldingAnswer {
  /** Pull at home, N. */
  readonly pullN: number;
  /** Force that lifts the device straight off home, N: pull and weight; below zero it falls off. */
  readonly pullOffN: number;
  /** Friction at home, N. */
  readonly frictionN: number;
  /** Largest sideways force towards home in the weakest direction, N, and its offset, mm. */
  readonly strongestRestoringN: number;
  readonly strongestAtMm: number;
  /**
   * Largest offset from which the device slides home by itself from every direction, mm; 0 where friction holds it anywhere.
   */
  readonly captureRadiusMm: number;
  /** True where the search ended before the capture did. */
  readonly captureIsSearchEnd: boolean;
  /** Radius inside which friction may let it stop, mm; null where friction lets it stop anywhere (no centring). */
  readonly restBandMm: number | null;
  /** Capture offset and rest-band offset for each direction, mm; directions evenly from +x. */
  readonly captureByDirectionMm: Float64Array;
  readonly restByDirectionMm: Float64Array;
  /** Turn within which friction may let it stop at home, rad; null where it never turns back by itself. */
  readonly restYaw: number | null;
  /** True where the slope alone would make the device slide off home. */
  readonly slidesOff: boolean;
  /** Places, mm, other than home where a device put down nearby may settle (wrong pair facing wrong pair). */
  readonly wrongSeatsMm: readonly (readonly [number, number])[];
}

/**
 * Capture and rest of a device held by magnets, without inertia: it moves along the net force as long as that exceeds friction
 * mu N with N = m g cos(slope) + pull, and stops as soon as it does not. A real device arrives with some speed, so that it may
 * come nearer home than the rest band and from a little farther than the capture radius: both errors are on the safe side.
 *
 * The slope's component m g sin(slope) acts outwards in every direction, the worst case for both radii.
 * @param force sideways force and pull of the magnets at an offset in m (see `layoutProfile`).
 * Accuracy: radii to 1e-4 of the reach against a direct root search (tests/analysis/hold).
 * @throws InputError for a mass, friction or slope that cannot be.
 */
export function holdDevice(
  force: SidewaysForce,
  body: HoldingBody,
  options: Partial<HoldingOptions> = {},
): HoldingAnswer {
  const { directions, reach, steps } = { ...HOLDING_DEFAULTS, ...options };
  checkBody(body);
  const weight = body.massKg * GRAVITY;
  const across = weight * Math.cos(body.slope);
  const along = weight * Math.sin(body.slope);
  const f = new Float64Array(4);
  const normalForce = (pull: number) => Math.max(0, across + pull);
  /** Force towards home beyond friction, N, at radius r in a direction; negative where it stays. */
  const drive = (r: number, c: number, s: number): number => {
    force(r * c, r * s, 0, f);
    return -(f[0] * c + f[1] * s) - along - body.friction * normalForce(f[2]);
  };
  force(0, 0, 0, f);
  const homePull = f[2];
  const rest = new Float64Array(directions).fill(Number.POSITIVE_INFINITY);
  const capture = new Float64Array(directions);
  let atEnd = true;
  let weakest = Number.POSITIVE_INFINITY;
  let weakestAt = 0;
  for (let d = 0; d < directions; d += 1) {
    const angle = (2 * Math.PI * d) / directions;
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    let strongest = 0;
    let strongestAt = 0;
    let before = drive(0, c, s);
    let moving = before > 0;
    if (moving) rest[d] = 0;
    let ended = false;
    for (let k = 1; k <= steps; k += 1) {
      const r = (reach * k) / steps;
      const now = drive(r, c, s);
      const inward = -(f[0] * c + f[1] * s);
      if (inward > strongest && !ended) {
        strongest = inward;
        strongestAt = r;
      }
      if (!moving && now > 0) {
        rest[d] = crossing((x) => drive(x, c, s), reach * ((k - 1) / steps), r);
        moving = true;
      } else if (moving && now <= 0) {
        capture[d] = crossing((x) => drive(x, c, s), reach * ((k - 1) / steps), r);
        ended = true;
        break;
      }
      before = now;
    }
    if (moving && !ended) capture[d] = reach;
    if (ended || !moving) atEnd = false;
    if (strongest < weakest) {
      weakest = strongest;
      weakestAt = strongestAt;
    }
  }
  const restRadius = rest.reduce((a, b) => Math.max(a, b), 0);
  const captureRadius = Number.isFinite(restRadius) ? capture.reduce((a, b) => Math.min(a, b), reach) : 0;
  return {
    pullN: homePull,
    pullOffN: homePull + across,
    frictionN: body.friction * normalForce(homePull),
    strongestRestoringN: weakest,
    strongestAtMm: weakestAt * 1e3,
    captureRadiusMm: captureRadius * 1e3,
    captureIsSearchEnd: atEnd && captureRadius > 0,
    restBandMm: Number.isFinite(restRadius) ? restRadius * 1e3 : null,
    captureByDirectionMm: capture.map((v) => v * 1e3),
    restByDirectionMm: rest.map((v) => v * 1e3),
    restYaw: restingTurn(force, body, normalForce(homePull)),
    slidesOff: along > body.friction * normalForce(homePull),
    wrongSeatsMm: wrongSeats(force, body, normalForce, reach, captureRadius),
  };
}

/** Halves the bracket of a sign change until it is a millionth of its size. */
function crossing(f: (x: number) => number, from: number, to: number): number {
  let low = from;
  let high = to;
  const sign = f(high) > 0;
  for (let i = 0; i < 40; i += 1) {
    const mid = (low + high) / 2;
    if (f(mid) > 0 === sign) high = mid;
    else low = mid;
  }
  return (low + high) / 2;
}

/** Smallest turn at which the magnets' torque beats friction's; null where none up to a quarter turn does. */
function restingTurn(force: SidewaysForce, body: HoldingBody, normal: number): number | null {
  const f = new Float64Array(4);
  const drive = (yaw: number) => {
    force(0, 0, yaw, f);
    return -f[3] - body.friction * normal * body.contactRadius;
  };
  const steps = 90;
  for (let k = 1; k <= steps; k += 1) {
    const yaw = (Math.PI / 2) * (k / steps);
    if (drive(yaw) > 0) return crossing(drive, (Math.PI / 2) * ((k - 1) / steps), yaw);
  }
  return null;
}

/** Slides devices down from a coarse grid of starts and lists where they settle away from home. */
function wrongSeats(
  force: SidewaysForce,
  body: HoldingBody,
  normalForce: (pull: number) => number,
  reach: number,
  captureRadius: number,
): [number, number][] {
  const f = new Float64Array(4);
  const step = reach / 300;
  const seats: [number, number][] = [];
  for (let d = 0; d < 16; d += 1) {
    for (let k = 1; k <= 8; k += 1) {
      const r = captureRadius + ((reach - captureRadius) * k) / 8;
      let x = r * Math.cos((Math.PI * d) / 8);
      let y = r * Math.sin((Math.PI * d) / 8);
      let moved = 0;
      for (let i = 0; i < 900; i += 1) {
        force(x, y, 0, f);
        const size = Math.hypot(f[0], f[1]);
        if (size <= body.friction * normalForce(f[2]) || size === 0) break;
        x += (step * f[0]) / size;
        y += (step * f[1]) / size;
        moved += step;
      }
      // A seat is where something slid to, other than home, still within the range looked at.
      const away = Math.hypot(x, y);
      if (moved < 5 * step || away > reach || away <= Math.max(captureRadius, 10 * step)) continue;
      force(x, y, 0, f);
      if (f[2] <= 0) continue;
      if (!seats.some(([a, b]) => Math.hypot(a - x * 1e3, b - y * 1e3) < reach * 150)) seats.push([x * 1e3, y * 1e3]);
    }
  }
  return seats;
}

/** @throws InputError for a body that cannot be */
export function checkBody(body: HoldingBody): void {
  const fault = (path: string, required: string, received: string) =>
    new InputError({ code: 'holding-body', path: `holding.${path}`, required, received });
  if (!(body.massKg > 0)) throw fault('deviceMassG', 'a mass > 0 g', `${body.massKg * 1e3} g`);
  if (!(body.friction >= 0)) throw fault('friction', 'a coefficient >= 0', `${body.friction}`);
  if (!(body.slope >= 0 && body.slope <= Math.PI / 2))
    throw fault('tableAngleDeg', 'an angle from 0 to 90 degrees', `${(body.slope * 180) / Math.PI} degrees`);
  if (!(body.contactRadius >= 0)) throw fault('contactRadius', 'a length >= 0 m', `${body.contactRadius} m`);
}

/** Polygon of the rest band, mm, flat x y; empty where friction lets the device stop anywhere. */
export function restPolygon(answer: HoldingAnswer): Float64Array {
  const rest = answer.restByDirectionMm;
  if (answer.restBandMm === null) return new Float64Array(0);
  const out = new Float64Array(2 * rest.length);
  rest.forEach((r, d) => {
    out[2 * d] = r * Math.cos((2 * Math.PI * d) / rest.length);
    out[2 * d + 1] = r * Math.sin((2 * Math.PI * d) / rest.length);
  });
  return out;
}
