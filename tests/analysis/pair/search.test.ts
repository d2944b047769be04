import { describe, expect, it } from 'vitest';
import {
  bestOf,
  type Fitness,
  firstMembers,
  fitter,
  type Population,
  survivors,
  trialsOf,
} from '../../../src/analysis/pair/differential-evolution.ts';
import { outerBox } from '../../../src/analysis/pair/outline-size.ts';
import { paretoFront } from '../../../src/analysis/pair/pareto-front.ts';
import {
  ownTrial,
  SEARCH_DIMENSIONS,
  type SearchRequest,
  trialDesign,
} from '../../../src/analysis/pair/search-space.ts';
import { judgeTrial, searchBase } from '../../../src/analysis/pair/search-trial.ts';
import { windSide } from '../../../src/design/wind.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import { airPair } from './air-pair.ts';

function evolve(
  dimensions: number,
  value: (x: Float64Array) => Fitness,
  generations: number,
  members: number,
  seed = 1,
): { x: Float64Array; fitness: Fitness } {
  const options = { seed, members };
  const rows = (all: Float64Array): Fitness[] =>
    Array.from({ length: members }, (_, i) => value(all.subarray(i * dimensions, (i + 1) * dimensions)));
  const first = firstMembers(dimensions, null, options);
  let population: Population = { dimensions, generation: 0, members: first, fitness: rows(first) };
  for (let g = 0; g < generations; g++) {
    const trials = trialsOf(population, options);
    population = survivors(population, trials, rows(trials));
  }
  const best = bestOf(population.fitness);
  return {
    x: population.members.slice(best * dimensions, (best + 1) * dimensions),
    fitness: population.fitness[best]!,
  };
}

const request = (): SearchRequest => {
  const design = airPair();
  return {
    design,
    side: 'receiver',
    goal: 'reach',
    footprintMm: { width: 46, height: 33 },
    thicknessMm: 1.7,
    wires: [
      { kind: 'litz', strands: 60, strandDiameterMm: 0.08, bundleDiameterMm: 0.75 },
      { kind: 'litz', strands: 30, strandDiameterMm: 0.08, bundleDiameterMm: 0.55 },
    ],
    shapes: ['circle', 'roundedRectangle', 'stadium'],
    mostTurns: 24,
    printed: null,
    seed: 1,
    generations: 12,
  };
};

describe('differential evolution', () => {
  // Standard test functions of global optimisation, with their known minima (common practice, from memory).
  it('finds the bottom of a bowl, of a bent valley and of a field of dents', () => {
    const bowl = evolve(5, (x) => ({ violation: 0, value: x.reduce((sum, v) => sum + (v - 0.3) ** 2, 0) }), 120, 24);
    expect(bowl.fitness.value).toBeLessThan(1e-6);
    const valley = evolve(
      2,
      (x) => {
        const [a, b] = [4 * x[0]! - 2, 4 * x[1]! - 2];
        return { violation: 0, value: (1 - a) ** 2 + 100 * (b - a * a) ** 2 };
      },
      150,
      24,
    );
    expect(valley.fitness.value).toBeLessThan(1e-4);
    const dents = evolve(
      3,
      (x) => {
        const z = Array.from(x, (v) => 10.24 * v - 5.12);
        return { violation: 0, value: z.reduce((sum, v) => sum + v * v - 10 * Math.cos(2 * Math.PI * v) + 10, 0) };
      },
      250,
      30,
    );
    expect(dents.fitness.value).toBeLessThan(0.01);
  });

  it('keeps to a condition', () => {
    // Least x + y with x y >= 0.25: at x = y = 0.5.
    const { x, fitness } = evolve(
      2,
      (v) => ({ violation: Math.max(0, 0.25 - v[0]! * v[1]!), value: v[0]! + v[1]! }),
      120,
      24,
    );
    expect(fitness.violation).toBe(0);
    expect(x[0]! + x[1]!).toBeCloseTo(1, 3);
  });

  it('repeats itself with the same seed and prefers fewer broken conditions', () => {
    const value = (x: Float64Array): Fitness => ({ violation: 0, value: Math.sin(9 * x[0]!) + x[1]! });
    expect(evolve(2, value, 10, 12)).toEqual(evolve(2, value, 10, 12));
    expect(fitter({ violation: 0, value: 9 }, { violation: 1, value: -9 })).toBe(true);
  });
});

describe('search space', () => {
  it('only gives coils that can be wound, within footprint and thickness', () => {
    const asked = request();
    const random = randomSource(3);
    let wound = 0;
    for (let n = 0; n < 120; n++) {
      const x = random.fillUniform(new Float64Array(SEARCH_DIMENSIONS));
      const trial = trialDesign(asked, x);
      if (!trial) continue;
      wound++;
      const { coil } = trial.design.receiver;
      const box = outerBox(coil);
      expect(box.widthMm).toBeLessThanOrEqual(46 + 1e-9);
      expect(box.heightMm).toBeLessThanOrEqual(33 + 1e-9);
      const side = windSide(trial.design, 'receiver');
      if (!side.ok) throw new Error('not wound');
      expect(2e3 * side.winding.halfThickness).toBeLessThanOrEqual(asked.thicknessMm * 1.03);
      expect(trial.design.transmitter).toEqual(asked.design.transmitter);
    }
    expect(wound).toBeGreaterThan(25);
  });

  it('keeps to the rules of printed coils', () => {
    const printed = { leastTraceMm: 0.2, leastSpaceMm: 0.15, copperMm: 0.07, mostLayers: 2, layerPitchMm: 0.8 };
    const asked = { ...request(), printed };
    const random = randomSource(4);
    let wound = 0;
    for (let n = 0; n < 80; n++) {
      const trial = trialDesign(asked, random.fillUniform(new Float64Array(SEARCH_DIMENSIONS)));
      if (!trial) continue;
      wound++;
      const { conductor, layers, turns } = trial.design.receiver.coil;
      if (conductor.kind !== 'trace') throw new Error('a trace is expected');
      expect(conductor.widthMm).toBeGreaterThanOrEqual(0.2 - 1e-3);
      expect(layers).toBeLessThanOrEqual(2);
      const side = windSide(trial.design, 'receiver');
      if (!side.ok) throw new Error('not wound');
      if (Math.ceil(turns / layers) > 1)
        expect(1e3 * side.winding.pitchX - conductor.widthMm).toBeGreaterThanOrEqual(0.15 - 2e-3);
    }
    expect(wound).toBeGreaterThan(10);
  });

  it("starts from the design's own coil", () => {
    const asked = request();
    const trial = trialDesign(asked, ownTrial(asked));
    if (!trial) throw new Error('the own coil must be in the space');
    const own = asked.design.receiver.coil;
    const { coil } = trial.design.receiver;
    expect([coil.turns, coil.layers, coil.outline.shape]).toEqual([own.turns, own.layers, own.outline.shape]);
    expect(outerBox(coil).widthMm).toBeCloseTo(46, 6);
    expect(trial.capacitorFactor).toBeCloseTo(1, 9);
  });
});

describe('search', () => {
  it("finds the brute-force grid's best within 1 % on a small problem", () => {
    // Two coordinates: size of a round coil and its series capacitor; everything else stands still.
    const asked: SearchRequest = {
      ...request(),
      goal: 'reach',
      shapes: ['circle'],
      wires: [{ kind: 'solid', diameterMm: 0.5, insulatedDiameterMm: 0.55 }],
    };
    const base = searchBase(asked.design);
    const at = (size: number, capacitor: number): Float64Array => {
      const x = Float64Array.of(0.5, 1, size, 0.5, 0.9, 0.5, 0.4, 0.2, capacitor);
      return x;
    };
    const judge = (v: ArrayLike<number>): Fitness => judgeTrial(asked, base, at(v[0]!, v[1]!));
    let grid: Fitness = { violation: 99, value: 0 };
    const n = 8;
    for (let i = 0; i <= n; i++)
      for (let j = 0; j <= n; j++) {
        const here = judge([i / n, j / n]);
        if (fitter(here, grid)) grid = here;
      }
    const found = evolve(2, judge, 8, 10).fitness;
    expect(grid.violation).toBe(0);
    expect(found.violation).toBe(0);
    // Both are reaches with the sign turned.
    expect(-found.value).toBeGreaterThan(0.99 * -grid.value);
  });

  it('goes on past a coil that cannot be solved', () => {
    // Closely wound solid wire, whose eddy currents did not settle on 2026-11-28: the coil counts as one that cannot be wound.
    const asked: SearchRequest = {
      ...request(),
      thicknessMm: 1.55,
      wires: [
        { kind: 'solid', diameterMm: 0.7, insulatedDiameterMm: 0.76 },
        { kind: 'solid', diameterMm: 0.4, insulatedDiameterMm: 0.44 },
      ],
    };
    const base = searchBase(asked.design);
    for (const x of [
      [0.6275, 0.932, 0.8257, 0.4304, 0.1936, 0.9839, 0.9501, 0.8127, 0.4521],
      [0.6523, 0.3013, 0.4023, 0.7001, 0.266, 0.2171, 0.44, 0.9005, 0.3591],
    ]) {
      expect(trialDesign(asked, x)).not.toBeNull();
      expect(judgeTrial(asked, base, x).violation).toBeGreaterThanOrEqual(0);
    }
  });

  it('draws the front of those that no other beats', () => {
    const gain = [1, 2, 3, 2, 3, Number.NaN];
    const cost = [1, 1, 3, 0.5, 4, 0];
    expect(paretoFront(gain, cost)).toEqual([3, 2]);
    expect(paretoFront([], [])).toEqual([]);
  });
});
