import { describe, expect, it } from 'vitest';
import { type PicturePoint, type PictureRectangle, planeOf } from '../../../src/analysis/pair/picture-plane.ts';
import { type Trace, tracedOutline } from '../../../src/analysis/pair/trace-outline.ts';
import { InputError } from '../../../src/numerics/errors.ts';

/** ISO/IEC 7810, ID-1: 85.60 x 53.98 mm, the size of a bank card (from memory). */
const CARD = { widthMm: 85.6, heightMm: 53.98, errorMm: 0.2 };

/**
 * A camera by the pinhole law, 3000 px behind the hole: turns the plane about three axes, moves it `away` mm, and looks. x to the
 * right and y up in the plane, mm; the picture's y is down.
 */
function camera(turns: readonly [number, number, number], away: number): (x: number, y: number) => PicturePoint {
  const [a, b, c] = turns;
  return (x, y) => {
    const [x1, y1] = [x * Math.cos(c) - y * Math.sin(c), x * Math.sin(c) + y * Math.cos(c)];
    const [y2, z2] = [y1 * Math.cos(a), y1 * Math.sin(a)];
    const [x3, z3] = [x1 * Math.cos(b) + z2 * Math.sin(b), -x1 * Math.sin(b) + z2 * Math.cos(b)];
    const depth = away + z3;
    return [2000 + (3000 * x3) / depth, 1500 - (3000 * y2) / depth];
  };
}

/** The card's corners clockwise from the upper left as the picture shows them, its middle at (u, v) of the plane. */
function cardIn(look: (x: number, y: number) => PicturePoint, u: number, v: number): PictureRectangle {
  const [w, h] = [CARD.widthMm / 2, CARD.heightMm / 2];
  return { ...CARD, corners: [look(u - w, v + h), look(u + w, v + h), look(u + w, v - h), look(u - w, v - h)] };
}

/** The centre line of a coil of 40 x 30 mm with round ends, about the origin. */
const COIL = Array.from({ length: 36 }, (_, i): [number, number] => {
  const angle = (2 * Math.PI * i) / 36;
  return [20 * Math.cos(angle), 15 * Math.sin(angle)];
});

const trace = (points: readonly PicturePoint[], scale: PictureRectangle, change: Partial<Trace> = {}): Trace => ({
  points,
  scale,
  pointingPx: 2,
  half: false,
  along: 'picture',
  ...change,
});

const VIEWS = [
  [0, 0, 0],
  [0.5, 0, 0],
  [-0.4, 0.6, 0.2],
  [0.7, -0.3, -0.4],
] as const;

describe('a picture taken aslant', () => {
  it('is put right by a rectangle of known sides: every point of the plane comes back', () => {
    for (const turns of VIEWS) {
      const look = camera(turns, 260);
      const place = planeOf(cardIn(look, 10, -60));
      for (const [x, y] of COIL) {
        const [u, v] = place(look(x, y));
        // From the card's upper left corner, down.
        expect(u).toBeCloseTo(x - (10 - CARD.widthMm / 2), 6);
        expect(v).toBeCloseTo(-60 + CARD.heightMm / 2 - y, 6);
      }
    }
  });

  it('gives the coil its own sizes, where a length alone would be many per cent out', () => {
    for (const turns of VIEWS) {
      const look = camera(turns, 260);
      const traced = tracedOutline(
        trace(
          COIL.map(([x, y]) => look(x, y)),
          cardIn(look, 10, -60),
        ),
      );
      expect(traced.width.valueMm).toBeCloseTo(40, 5);
      expect(traced.height.valueMm).toBeCloseTo(30, 5);
      expect(traced.pointsMm[0]).toEqual([20, 0]);
    }
    const look = camera([0.5, 0, 0], 260);
    const scale = { from: look(-20, -20), to: look(20, -20), lengthMm: 40, errorMm: 0.2 };
    const aslant = tracedOutline({
      ...trace([], cardIn(look, 10, -60)),
      points: COIL.map(([x, y]) => look(x, y)),
      scale,
    });
    expect(Math.abs(aslant.height.valueMm / 30 - 1)).toBeGreaterThan(0.1);
  });

  it('is as wide as the length of its scale says where it was taken from straight above', () => {
    const look = camera([0, 0, 0], 260);
    const points = COIL.map(([x, y]) => look(x, y));
    const scale = { from: look(-40, -30), to: look(40, -30), lengthMm: 80, errorMm: 0.2 };
    const [one, other] = [
      tracedOutline({ ...trace(points, cardIn(look, 0, -60)), scale }),
      tracedOutline(trace(points, cardIn(look, 0, -60))),
    ];
    expect(other.pointsMm).toEqual(one.pointsMm);
  });

  it('stands as the picture shows it, whichever corner is called the first', () => {
    const look = camera([0.3, 0.2, 0.1], 260);
    const points = COIL.map(([x, y]) => look(x, y));
    const card = cardIn(look, 10, -60);
    const upright = tracedOutline(trace(points, card)).pointsMm;
    const [a, b, c, d] = card.corners;
    for (const [corners, turned] of [
      [[b, c, d, a], true],
      [[c, d, a, b], false],
      [[d, a, b, c], true],
    ] as const) {
      const [widthMm, heightMm] = turned ? [CARD.heightMm, CARD.widthMm] : [CARD.widthMm, CARD.heightMm];
      expect(tracedOutline(trace(points, { ...card, corners, widthMm, heightMm })).pointsMm).toEqual(upright);
    }
  });

  it('is mirrored from one half in its own plane', () => {
    const look = camera([0.5, 0.2, 0.1], 260);
    const half = COIL.slice(0, 19).map(([x, y]) => look(x, y));
    const traced = tracedOutline(trace(half, cardIn(look, 10, -60), { half: true }));
    expect(traced.pointsMm).toHaveLength(36);
    expect(traced.width.valueMm).toBeCloseTo(40, 5);
    expect(traced.height.valueMm).toBeCloseTo(30, 5);
  });

  it('covers the truth in 95 % of pictures pointed at and measured with those errors, aslant too', () => {
    let seed = 11;
    const uniform = (): number => {
      seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
      return (seed + 0.5) / 2 ** 32;
    };
    const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const blurred = ([x, y]: PicturePoint): PicturePoint => [x + normal(), y + normal()];
    // One point decides each size here, as the error model has it.
    const cross = [
      [20, 0],
      [0, 15],
      [-20, 0],
      [0, -15],
    ] as const;
    for (const half of [false, true]) {
      const inside = [0, 0];
      const tries = 600;
      for (let n = 0; n < tries; n++) {
        const look = camera(
          [0.6 * (uniform() - 0.5), 0.6 * (uniform() - 0.5), 0.3 * (uniform() - 0.5)],
          200 + 200 * uniform(),
        );
        const card = cardIn(look, 20 * (uniform() - 0.5), -60);
        const corners = card.corners.map(blurred) as unknown as PictureRectangle['corners'];
        const scale = {
          corners,
          errorMm: CARD.errorMm,
          widthMm: 85.6 + 0.1 * normal(),
          heightMm: 53.98 + 0.1 * normal(),
        };
        const points = (half ? cross.slice(0, 3) : cross).map(([x, y]) => blurred(look(x, y)));
        const { width, height } = tracedOutline(trace(points, scale, { half }));
        if (Math.abs(width.valueMm - 40) <= width.halfMm) inside[0]++;
        if (Math.abs(height.valueMm - 30) <= height.halfMm) inside[1]++;
      }
      for (const count of inside) {
        expect(count / tries).toBeGreaterThan(0.93);
        expect(count / tries).toBeLessThan(0.975);
      }
    }
  });

  it('refuses corners that are none, with what is wrong', () => {
    const look = camera([0, 0, 0], 260);
    const card = cardIn(look, 0, -60);
    const [a, b, c, d] = card.corners;
    const refusal = (corners: PictureRectangle['corners'], change: Partial<PictureRectangle> = {}, points = COIL) => {
      try {
        tracedOutline(
          trace(
            points.map(([x, y]) => look(x, y)),
            { ...card, corners, ...change },
          ),
        );
      } catch (error) {
        if (error instanceof InputError) return error.faults[0]!;
      }
      throw new Error('a refusal was expected');
    };
    expect(refusal([a, d, c, b])).toMatchObject({ path: 'scale', received: 'corners that run the other way round' });
    expect(refusal([a, c, b, d])).toMatchObject({ received: 'corners that cross or lie in line' });
    expect(refusal([a, b, [(b[0] + d[0]) / 2, (b[1] + d[1]) / 2], d]).code).toBe('corners-crossed');
    expect(refusal([a, a, a, a]).code).toBe('scale-too-short');
    expect(refusal(card.corners, { widthMm: 0 })).toMatchObject({ path: 'scale.length', received: '0 mm' });
    expect(refusal(card.corners, { errorMm: 90 })).toMatchObject({ path: 'scale.error' });
    // A trapezium so steep that the plane vanishes inside the picture.
    const steep = {
      ...card,
      corners: [
        [900, 1000],
        [1100, 1000],
        [1800, 2000],
        [200, 2000],
      ] as unknown as PictureRectangle['corners'],
    };
    const far: PicturePoint[] = [
      [1000, 10],
      [1100, 10],
      [1050, 60],
    ];
    expect(() => tracedOutline(trace(far, steep))).toThrow(/vanishes/);
  });
});
