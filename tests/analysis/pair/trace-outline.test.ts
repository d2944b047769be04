import { describe, expect, it } from 'vitest';
import { fromRuler, fromTrace } from '../../../src/analysis/pair/coil-size-reading.ts';
import { outerArea } from '../../../src/analysis/pair/outline-size.ts';
import type { PicturePoint } from '../../../src/analysis/pair/picture-plane.ts';
import {
  sizeErrorOf,
  type Trace,
  type TraceScale,
  tracedOutline,
  withTrace,
  withTraceTolerance,
} from '../../../src/analysis/pair/trace-outline.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { coilSpecOf } from '../../../src/design/to-si.ts';
import { InputError } from '../../../src/numerics/errors.ts';
import { selfInductance } from '../../../src/physics/coil/self-inductance.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { airPair } from './air-pair.ts';

/** Points of a circle in a picture, px, y down. */
const circle = (count: number, radius: number, x = 500, y = 400): PicturePoint[] =>
  Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * i) / count;
    return [x + radius * Math.cos(angle), y - radius * Math.sin(angle)];
  });

const SCALE = { from: [100, 900], to: [600, 900], lengthMm: 50, errorMm: 0.5 } as const;
const trace = (points: readonly PicturePoint[], change: Partial<Trace> = {}): Trace => ({
  points,
  scale: SCALE,
  pointingPx: 2,
  half: false,
  along: 'picture',
  ...change,
});

/** The first wording of a refusal. */
function refusal(act: () => unknown): { path: string; required: string; received: string } {
  try {
    act();
  } catch (error) {
    if (error instanceof InputError) return error.faults[0]!;
  }
  throw new Error('a refusal was expected');
}

describe('an outline traced over a picture', () => {
  it('has the sizes of what was traced, about its own middle', () => {
    // 10 px are 1 mm: a rectangle of 400 x 200 px is 40 x 20 mm.
    const corners: PicturePoint[] = [
      [300, 300],
      [700, 300],
      [700, 500],
      [300, 500],
    ];
    const traced = tracedOutline(trace(corners));
    expect(traced.width.valueMm).toBeCloseTo(40, 9);
    expect(traced.height.valueMm).toBeCloseTo(20, 9);
    // Up in the picture is up in the design.
    expect(traced.pointsMm).toEqual([
      [-20, 10],
      [20, 10],
      [20, -10],
      [-20, -10],
    ]);
    expect(traced.missingArea).toBe(0);
  });

  it('knows its sizes as well as scale and pointing allow', () => {
    const { width } = tracedOutline(trace(circle(24, 200)));
    // 0.5 of 50 mm, and two ends of 2 px on 500 px; then two edges of 2 px, 0.1 mm a px.
    const scaleError = Math.hypot(0.01, (Math.SQRT2 * 2) / 500);
    expect(width.halfMm).toBeCloseTo(Math.hypot(width.valueMm * scaleError, Math.SQRT2 * 0.2), 12);
  });

  it('covers the truth in 95 % of pictures pointed at and read with those errors', () => {
    // Normal errors of which the stated half-widths are two standard deviations; seeded.
    let seed = 7;
    const uniform = (): number => {
      seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
      return (seed + 0.5) / 2 ** 32;
    };
    const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const blurred = ([x, y]: PicturePoint): PicturePoint => [x + normal(), y + normal()];
    let inside = 0;
    const tries = 1500;
    for (let n = 0; n < tries; n++) {
      // One corner on either side decides the width here, as the error model has it.
      const [a, b] = [blurred([300, 400]), blurred([700, 400])];
      const points: PicturePoint[] = [a, [500, 300], b, [500, 500]];
      const scale = { ...SCALE, from: blurred(SCALE.from), to: blurred(SCALE.to), lengthMm: 50 + 0.25 * normal() };
      const { width } = tracedOutline(trace(points, { scale }));
      if (Math.abs(width.valueMm - 40) <= width.halfMm) inside++;
    }
    expect(inside / tries).toBeGreaterThan(0.935);
    expect(inside / tries).toBeLessThan(0.97);
  });

  it('says how much area straight sides leave out: 1 - sin(2 pi / n) n / 2 pi of a circle', () => {
    for (const n of [12, 24, 48]) {
      const exact = (2 * Math.PI) / n / Math.sin((2 * Math.PI) / n) - 1;
      expect(tracedOutline(trace(circle(n, 200))).missingArea / exact).toBeCloseTo(1, 1);
    }
    // Corners of a rectangle are corners: nothing is left out.
    expect(tracedOutline(trace(circle(4, 200))).missingArea).toBe(0);
  });

  it('mirrors one half about the line through its ends, however the picture is turned', () => {
    for (const turn of [0, 0.3, -0.5, 1.2]) {
      const half = circle(24, 200)
        .slice(0, 13)
        .map(([x, y]): PicturePoint => {
          const [u, v] = [x - 500, y - 400];
          const [c, s] = [Math.cos(turn), Math.sin(turn)];
          return [500 + c * u - s * v, 400 + s * u + c * v];
        });
      const traced = tracedOutline(trace(half, { half: true }));
      expect(traced.pointsMm).toHaveLength(24);
      expect(traced.width.valueMm).toBeCloseTo(40, 6);
      expect(traced.height.valueMm).toBeCloseTo(40, 6);
      const outline = {
        shape: 'path' as const,
        pointsMm: traced.pointsMm.map(([x, y]): [number, number] => [x, y]),
        pitchMm: 1,
      };
      expect(outerArea(outline)).toBeCloseTo(12 * 400 * Math.sin(Math.PI / 12), 1);
    }
  });

  it('lies level along the scale where that is wanted', () => {
    const turned = (x: number, y: number): PicturePoint => {
      const [c, s] = [Math.cos(0.4), Math.sin(0.4)];
      return [500 + c * x - s * y, 400 + s * x + c * y];
    };
    const points = [turned(-200, -100), turned(200, -100), turned(200, 100), turned(-200, 100)];
    const scale = { ...SCALE, from: turned(-250, 200), to: turned(250, 200) };
    const level = tracedOutline(trace(points, { scale, along: 'scale' }));
    expect(level.width.valueMm).toBeCloseTo(40, 6);
    expect(level.height.valueMm).toBeCloseTo(20, 6);
    expect(tracedOutline(trace(points, { scale })).height.valueMm).toBeGreaterThan(30);
  });

  it('refuses what cannot be measured, with what it needs', () => {
    expect(refusal(() => tracedOutline(trace(circle(2, 200))))).toMatchObject({ path: 'points', received: '2' });
    const at = (change: Partial<TraceScale>) => trace(circle(8, 200), { scale: { ...SCALE, ...change } });
    expect(refusal(() => tracedOutline(at({ lengthMm: 0 })))).toMatchObject({ path: 'scale.length', received: '0 mm' });
    expect(refusal(() => tracedOutline(at({ errorMm: 60 })))).toMatchObject({ path: 'scale.error' });
    expect(refusal(() => tracedOutline(at({ to: [104, 900] })))).toMatchObject({ path: 'scale', received: '4 px' });
    expect(refusal(() => tracedOutline(at({ lengthMm: 9000 }))).required).toContain('0.5 to 1000 mm');
  });
});

describe('the traced coil', () => {
  it('is the coil that was in the picture: L of a round coil within its own tolerance', () => {
    const design = airPair();
    design.receiver.coil = {
      ...design.receiver.coil,
      outline: { shape: 'circle', outerDiameterMm: 40.75, innerDiameterMm: 20 },
      turns: 10,
      layers: 1,
    };
    const { coil } = design.receiver;
    const truth = selfInductance(windCoil(coilSpecOf(coil, 1)), { tolerance: 1e-4 }).value;
    // The centre line of the outermost turn is one bundle of 0.75 mm inside the edge: 40 mm, nine steps to the innermost.
    const outline = tracedOutline(trace(circle(36, 200)));
    const traced = withTrace(design, 'receiver', outline, (40 - 20.75) / 2 / 9);
    if (!traced.ok) throw new Error('it must wind');
    const reading = fromTrace(traced.design.receiver.coil, sizeErrorOf(outline), outline.missingArea);
    expect(Math.abs(reading.inductanceH / truth - 1)).toBeLessThan(reading.inductanceTolerancePercent / 100);
    expect(reading.inductanceTolerancePercent).toBeGreaterThan(1);
    expect(reading.inductanceTolerancePercent).toBeLessThan(4);
    const taken = withTraceTolerance(traced.design, 'receiver', reading.inductanceTolerancePercent);
    expect([taken.receiver.coil.turns, taken.receiver.coil.conductor]).toEqual([10, coil.conductor]);
    // A coil that was not measured is known within 5 %; the picture's share comes on top.
    expect(taken.receiver.coil.inductanceTolerancePercent).toBeCloseTo(
      Math.hypot(5, reading.inductanceTolerancePercent),
      2,
    );
    // The design file takes it.
    const { assumed: _, ...document } = taken;
    expect(parseDesign(document).ok).toBe(true);
  });

  it('is refused where it crosses itself, where turns vanish and where they overlap', () => {
    const bow: PicturePoint[] = [
      [300, 300],
      [700, 500],
      [700, 300],
      [300, 500],
    ];
    const say = (points: readonly PicturePoint[], pitchMm: number): string => {
      const result = withTrace(airPair(), 'receiver', tracedOutline(trace(points)), pitchMm);
      return result.ok ? 'wound' : `${result.faults[0]!.path}: ${result.faults[0]!.code}`;
    };
    expect(say(bow, 1)).toBe('receiver.coil.outline.pointsMm: path-crosses-itself');
    expect(say(circle(24, 50), 1)).toBe('receiver.coil.turns: turn-vanishes');
    expect(say(circle(24, 200), 0.5)).toBe('receiver.coil.outline.pitchMm: turns-overlap');
    expect(say(circle(24, 200), 1)).toBe('wound');
  });

  it('read again with a ruler moves with its size', () => {
    const result = withTrace(airPair(), 'receiver', tracedOutline(trace(circle(24, 200))), 1);
    if (!result.ok) throw new Error('it must wind');
    const { coil } = result.design.receiver;
    const [fine, rough] = [fromRuler(coil, 0.1, 0), fromRuler(coil, 0.5, 0)];
    expect(rough.inductanceTolerancePercent).toBeGreaterThan(3 * fine.inductanceTolerancePercent);
    expect(rough.inductanceTolerancePercent).toBeLessThan(5);
  });
});
