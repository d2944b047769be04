import { describe, expect, it } from 'vitest';
import { pocketFor, type RoundedShape } from '../../../src/analysis/hold/device-shape.ts';
import { playAllows, playAlongX, playBox, playDepth, recessPlay } from '../../../src/analysis/hold/recess-play.ts';
import { randomSource } from '../../../src/numerics/random.ts';

const SEED = 20240607;
const DEGREE = Math.PI / 180;

/** Corners of a sharp rectangle turned and moved. */
function corners(halfW: number, halfH: number, x: number, y: number, yaw: number): [number, number][] {
  const c = Math.cos(yaw);
  const s = Math.sin(yaw);
  return [
    [1, 1],
    [-1, 1],
    [-1, -1],
    [1, -1],
  ].map(([a, b]) => [x + a * halfW * c - b * halfH * s, y + a * halfW * s + b * halfH * c]);
}

/** Brute force: a rectangle is in a rectangle when its four corners are. */
function rectangleFits(d: RoundedShape, p: RoundedShape, x: number, y: number, yaw: number): boolean {
  return corners(d.halfWidthMm, d.halfHeightMm, x, y, yaw).every(
    ([cx, cy]) => Math.abs(cx) <= p.halfWidthMm && Math.abs(cy) <= p.halfHeightMm,
  );
}

/** Brute force: the largest value along a ray for which `fits` holds, by bisection of a convex set that holds 0. */
function farthest(fits: (t: number) => boolean, limit: number): number {
  if (!fits(0)) return Number.NaN;
  let low = 0;
  let high = limit;
  for (let i = 0; i < 60; i += 1) {
    const mid = (low + high) / 2;
    if (fits(mid)) low = mid;
    else high = mid;
  }
  return low;
}

describe('rectangle in rectangle', () => {
  it(`is exact against brute force over 10,000 random pockets (seed ${SEED})`, () => {
    const random = randomSource(SEED);
    let turned = 0;
    let worst = 0;
    let emptyAgreed = 0;
    for (let n = 0; n < 10_000; n += 1) {
      const device: RoundedShape = {
        halfWidthMm: 2 + 60 * random.uniform(),
        halfHeightMm: 2 + 60 * random.uniform(),
        cornerRadiusMm: 0,
      };
      const pocket: RoundedShape = {
        halfWidthMm: device.halfWidthMm + 10 * random.uniform() ** 2,
        halfHeightMm: device.halfHeightMm + 10 * random.uniform() ** 2,
        cornerRadiusMm: 0,
      };
      const play = recessPlay(device, pocket);
      // Largest turn by scanning from zero in small steps and bisecting, corners only.
      const yaw = (2 * random.uniform() - 1) * 0.3;
      const fits = (x: number, y: number, t = yaw) => rectangleFits(device, pocket, x, y, t);
      const box = playBox(play, yaw);
      if (!fits(0, 0)) {
        // A symmetric convex set without its middle is empty.
        expect(box).toBeNull();
        emptyAgreed += 1;
        continue;
      }
      turned += 1;
      if (!box) throw new Error(`pocket ${n}: play missing`);
      const limit = 200;
      worst = Math.max(
        worst,
        Math.abs(box.halfXMm - farthest((t) => fits(t, 0), limit)),
        Math.abs(box.halfXMm - farthest((t) => fits(-t, 0), limit)),
        Math.abs(box.halfYMm - farthest((t) => fits(0, t), limit)),
        Math.abs(box.halfYMm - farthest((t) => fits(0, -t), limit)),
      );
      // Along a slanted ray the box ends where brute force ends: it is the whole set, not just its axes.
      const angle = 2 * Math.PI * random.uniform();
      const c = Math.cos(angle);
      const s = Math.sin(angle);
      const ray = Math.min(box.halfXMm / Math.abs(c), box.halfYMm / Math.abs(s));
      worst = Math.max(worst, Math.abs(ray - farthest((t) => fits(t * c, t * s), limit)));
      const row = playAlongX(play, 0.5 * box.halfYMm, yaw);
      worst = Math.max(worst, Math.abs((row?.to ?? Number.NaN) - farthest((t) => fits(t, 0.5 * box.halfYMm), limit)));
    }
    expect(worst).toBeLessThan(1e-9);
    expect(turned).toBeGreaterThan(2000);
    expect(emptyAgreed).toBeGreaterThan(1000);
  });

  it(`finds the largest turn: just inside fits, just outside does not (2,000 random pockets, seed ${SEED + 1})`, () => {
    const random = randomSource(SEED + 1);
    for (let n = 0; n < 2000; n += 1) {
      const device = {
        halfWidthMm: 5 + 40 * random.uniform(),
        halfHeightMm: 5 + 40 * random.uniform(),
        cornerRadiusMm: 0,
      };
      const clearance = 6 * random.uniform() ** 2;
      const play = recessPlay(device, pocketFor(device, clearance));
      const yaw = play.largestYaw;
      if (yaw === Math.PI) continue;
      for (let k = 0; k <= 40; k += 1) {
        const t = (yaw * k) / 40;
        expect(rectangleFits(device, play.pocket, 0, 0, t * (1 - 1e-9))).toBe(true);
      }
      expect(rectangleFits(device, play.pocket, 0, 0, yaw + 1e-7)).toBe(false);
    }
  });

  it('worked by hand: 60 x 40 in 62 x 42', () => {
    // 30 cos t + 20 sin t = 31: t = atan(2/3) - acos(31/sqrt(1300)); 20 cos t + 30 sin t = 21 is reached first.
    const play = recessPlay(
      { halfWidthMm: 30, halfHeightMm: 20, cornerRadiusMm: 0 },
      { halfWidthMm: 31, halfHeightMm: 21, cornerRadiusMm: 0 },
    );
    const size = Math.sqrt(1300);
    const first = Math.min(Math.atan2(20, 30) - Math.acos(31 / size), Math.atan2(30, 20) - Math.acos(21 / size));
    expect(play.largestYaw).toBeCloseTo(first, 12);
    expect(playBox(play, 0)).toEqual({ halfXMm: 1, halfYMm: 1 });
  });
});

describe('rounded shapes', () => {
  /** Brute force: many points of the device's rim, each tested against the pocket's own shape. */
  function roundedFits(d: RoundedShape, p: RoundedShape, x: number, y: number, yaw: number): boolean {
    const c = Math.cos(yaw);
    const s = Math.sin(yaw);
    for (const [a, b] of corners(d.halfWidthMm - d.cornerRadiusMm, d.halfHeightMm - d.cornerRadiusMm, 0, 0, 0))
      for (let k = 0; k < 720; k += 1) {
        const u = a + d.cornerRadiusMm * Math.cos(k * 0.5 * DEGREE);
        const v = b + d.cornerRadiusMm * Math.sin(k * 0.5 * DEGREE);
        const px = Math.abs(x + u * c - v * s);
        const py = Math.abs(y + u * s + v * c);
        if (px > p.halfWidthMm || py > p.halfHeightMm) return false;
        const ox = px - (p.halfWidthMm - p.cornerRadiusMm);
        const oy = py - (p.halfHeightMm - p.cornerRadiusMm);
        if (ox > 0 && oy > 0 && Math.hypot(ox, oy) > p.cornerRadiusMm) return false;
      }
    return true;
  }

  it(`agrees with rim points for random shapes and poses (seed ${SEED + 2})`, () => {
    const random = randomSource(SEED + 2);
    let inside = 0;
    let outside = 0;
    for (let n = 0; n < 1500; n += 1) {
      const halfWidthMm = 5 + 30 * random.uniform();
      const halfHeightMm = 5 + 30 * random.uniform();
      const least = Math.min(halfWidthMm, halfHeightMm);
      const device = { halfWidthMm, halfHeightMm, cornerRadiusMm: least * random.uniform() };
      const clearance = 0.2 + 4 * random.uniform();
      const pocket = pocketFor(device, clearance, (device.cornerRadiusMm + clearance) * random.uniform());
      const play = recessPlay(device, pocket);
      const x = (2 * random.uniform() - 1) * 1.2 * clearance;
      const y = (2 * random.uniform() - 1) * 1.2 * clearance;
      const yaw = (2 * random.uniform() - 1) * 0.15;
      const depth = playDepth(play, x, y, yaw);
      // Rim points half a degree apart miss the wall by up to r (1 - cos 0.25 degree).
      if (Math.abs(depth) < 1e-5 * device.cornerRadiusMm + 1e-9) continue;
      expect(roundedFits(device, pocket, x, y, yaw)).toBe(depth > 0);
      if (depth > 0) inside += 1;
      else outside += 1;
      const row = playAlongX(play, y, yaw);
      expect(row !== null && row.from <= x && x <= row.to).toBe(depth > 0);
    }
    expect(inside).toBeGreaterThan(300);
    expect(outside).toBeGreaterThan(300);
  });

  it(`boxes touch the set and do not cut it where the pocket's corners are the rounder (seed ${SEED + 3})`, () => {
    const random = randomSource(SEED + 3);
    for (let n = 0; n < 60; n += 1) {
      const device = { halfWidthMm: 20 + 10 * random.uniform(), halfHeightMm: 15, cornerRadiusMm: 2 };
      const pocket = pocketFor(device, 2, 2 + 2 * random.uniform());
      const play = recessPlay(device, pocket);
      const yaw = play.largestYaw * (2 * random.uniform() - 1) * 0.95;
      const box = playBox(play, yaw);
      if (!box) throw new Error('play missing');
      let mostX = 0;
      let mostY = 0;
      for (let k = 0; k < 20_000; k += 1) {
        const x = (2 * random.uniform() - 1) * 2.5;
        const y = (2 * random.uniform() - 1) * 2.5;
        if (!playAllows(play, x, y, yaw)) continue;
        mostX = Math.max(mostX, Math.abs(x));
        mostY = Math.max(mostY, Math.abs(y));
      }
      expect(mostX).toBeLessThanOrEqual(box.halfXMm + 1e-9);
      expect(mostY).toBeLessThanOrEqual(box.halfYMm + 1e-9);
      expect(mostX).toBeGreaterThan(0.85 * box.halfXMm);
      expect(mostY).toBeGreaterThan(0.85 * box.halfYMm);
    }
  });

  it('a circle in a circle has a disc of play and turns freely', () => {
    const device = { halfWidthMm: 20, halfHeightMm: 20, cornerRadiusMm: 20 };
    const play = recessPlay(device, pocketFor(device, 1.5));
    expect(play.largestYaw).toBe(Math.PI);
    for (let k = 0; k < 12; k += 1) {
      const c = Math.cos(k / 2);
      const s = Math.sin(k / 2);
      expect(playAllows(play, 1.4999 * c, 1.4999 * s, k)).toBe(true);
      expect(playAllows(play, 1.5001 * c, 1.5001 * s, k)).toBe(false);
    }
  });

  it('a circle in a square pocket has the whole box', () => {
    const device = { halfWidthMm: 20, halfHeightMm: 20, cornerRadiusMm: 20 };
    const play = recessPlay(device, { halfWidthMm: 22, halfHeightMm: 21, cornerRadiusMm: 0 });
    expect(playBox(play, 1)).toEqual({ halfXMm: 2, halfYMm: 1 });
    expect(playAllows(play, 1.999, -0.999, 0.3)).toBe(true);
  });

  it('a device too large for its pocket has no play', () => {
    const play = recessPlay(
      { halfWidthMm: 10, halfHeightMm: 10, cornerRadiusMm: 0 },
      { halfWidthMm: 9, halfHeightMm: 12, cornerRadiusMm: 0 },
    );
    expect(play.largestYaw).toBeNaN();
    expect(playBox(play, 0)).toBeNull();
    expect(playAlongX(play, 0, 0)).toBeNull();
  });

  it('a square in a pocket wider than its diagonal turns all the way', () => {
    const play = recessPlay(
      { halfWidthMm: 10, halfHeightMm: 10, cornerRadiusMm: 0 },
      { halfWidthMm: 14.2, halfHeightMm: 14.2, cornerRadiusMm: 0 },
    );
    expect(play.largestYaw).toBe(Math.PI);
  });
});
