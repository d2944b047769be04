import { randomSource } from '../../numerics/random.ts';

/** What one trial is worth: how far it breaks the conditions (0: not at all), then the value to make small. */
export interface Fitness {
  readonly violation: number;
  readonly value: number;
}

/** State of a search between generations: plain data. */
export interface Population {
  readonly dimensions: number;
  readonly generation: number;
  /** [members, dimensions] row-major, each 0..1. */
  readonly members: Float64Array;
  readonly fitness: readonly Fitness[];
}

export interface EvolutionOptions {
  readonly seed: number;
  readonly members: number;
  /** Weight of the difference vector. */
  readonly weight: number;
  /** Chance that a coordinate comes from the mutant. */
  readonly crossover: number;
  /** Chance that a mutant starts from the best member instead of a random one. */
  readonly greed: number;
}

export const EVOLUTION_DEFAULTS: EvolutionOptions = Object.freeze({
  seed: 1,
  members: 24,
  weight: 0.65,
  crossover: 0.85,
  greed: 0.35,
});

/** Whether the first is better: fewer broken conditions first, then the smaller value. Source: K. Deb, Comput. Methods Appl. Mech. Eng. 186 (2000) 311 (from memory). */
export function fitter(a: Fitness, b: Fitness): boolean {
  if (a.violation !== b.violation) return a.violation < b.violation;
  return a.value < b.value;
}

/** First members: one in each slice of every coordinate (Latin hypercube), and the start given. [members, dimensions] */
export function firstMembers(
  dimensions: number,
  start: Float64Array | null,
  options: Partial<EvolutionOptions> = EVOLUTION_DEFAULTS,
): Float64Array {
  const { seed, members } = { ...EVOLUTION_DEFAULTS, ...options };
  const random = randomSource(seed);
  const out = new Float64Array(members * dimensions);
  for (let d = 0; d < dimensions; d++) {
    const order = Array.from({ length: members }, (_, i) => i);
    for (let i = members - 1; i > 0; i--) {
      const j = Math.floor(random.uniform() * (i + 1));
      [order[i], order[j]] = [order[j]!, order[i]!];
    }
    for (let i = 0; i < members; i++) out[i * dimensions + d] = (order[i]! + random.uniform()) / members;
  }
  if (start) out.set(start);
  return out;
}

/**
 * The next generation's trials.
 * Method: differential evolution, rand/1/bin mixed with best/1/bin; coordinates that leave 0..1 come back between the border
 * and the parent. Source: R. Storn, K. Price, J. Global Optim. 11 (1997) 341 (from memory). The random numbers depend on seed and
 * generation alone, so that a search can be taken up again.
 */
export function trialsOf(
  population: Population,
  options: Partial<EvolutionOptions> = EVOLUTION_DEFAULTS,
): Float64Array {
  const { seed, weight, crossover, greed } = { ...EVOLUTION_DEFAULTS, ...options };
  const { dimensions, members, fitness, generation } = population;
  const count = fitness.length;
  const random = randomSource(seed + 7919 * (generation + 1));
  const best = bestOf(fitness);
  const out = new Float64Array(members.length);
  const other = (...not: number[]): number => {
    for (;;) {
      const pick = Math.floor(random.uniform() * count);
      if (!not.includes(pick)) return pick;
    }
  };
  for (let i = 0; i < count; i++) {
    const a = random.uniform() < greed ? best : other(i);
    const b = other(i, a);
    const c = other(i, a, b);
    const sure = Math.floor(random.uniform() * dimensions);
    // A little scatter in the weight keeps small populations from stalling.
    const scale = weight * (0.7 + 0.6 * random.uniform());
    for (let d = 0; d < dimensions; d++) {
      const parent = members[i * dimensions + d]!;
      const taken = random.uniform() < crossover || d === sure;
      let value = taken
        ? members[a * dimensions + d]! + scale * (members[b * dimensions + d]! - members[c * dimensions + d]!)
        : parent;
      if (value < 0) value = parent * random.uniform();
      else if (value > 1) value = 1 - (1 - parent) * random.uniform();
      out[i * dimensions + d] = value;
    }
  }
  return out;
}

/** Keeps each trial that is at least as good as its parent. */
export function survivors(population: Population, trials: Float64Array, fitness: readonly Fitness[]): Population {
  const { dimensions } = population;
  const members = population.members.slice();
  const kept = population.fitness.map((parent, i) => {
    const trial = fitness[i]!;
    if (fitter(parent, trial)) return parent;
    members.set(trials.subarray(i * dimensions, (i + 1) * dimensions), i * dimensions);
    return trial;
  });
  return { dimensions, generation: population.generation + 1, members, fitness: kept };
}

/** Index of the fittest. */
export function bestOf(fitness: readonly Fitness[]): number {
  return fitness.reduce((best, entry, i) => (fitter(entry, fitness[best]!) ? i : best), 0);
}
