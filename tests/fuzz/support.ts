/**
 * Random hostile input: what every fuzz test of this folder shares.
 *
 * In every test run about 5,000 cases in all; the long run takes as many as OFFCENTRE_FUZZ says, another OFFCENTRE_SEED
 * another walk:
 *
 *     OFFCENTRE_FUZZ=100000 npx vitest run --project unit tests/fuzz
 */
import fc from 'fast-check';
import { expect } from 'vitest';
import { type FaultDetail, faultLine } from '../../src/numerics/errors.ts';

const CASES = Number(process.env.OFFCENTRE_FUZZ ?? 5000);
const SEED = Number(process.env.OFFCENTRE_SEED ?? 20261128);

/** Settings of one property that takes a share of all cases: of every run, and of a long one, which can afford dear cases. */
export function share(short: number, long = short): { readonly seed: number; readonly numRuns: number } {
  const part = process.env.OFFCENTRE_FUZZ === undefined ? short : long;
  return { seed: SEED, numRuns: Math.max(1, Math.round(CASES * part)) };
}

/** Time for a long run, ms. */
export const PATIENCE = Math.max(120_000, CASES * 60);

const PROTOTYPES = [Object.prototype, Array.prototype, String.prototype, Number.prototype, Function.prototype];
const prototypeKeys = (): string => PROTOTYPES.map((one) => Reflect.ownKeys(one).length).join();
const CLEAN = prototypeKeys();

/** Processor seconds that one case may take before it counts as a hang. */
const LONGEST_S = 1;

function judge(used: NodeJS.CpuUsage, what: string): void {
  const seconds = (used.user + used.system) / 1e6;
  if (seconds > LONGEST_S)
    throw new Error(`a hang: ${seconds.toFixed(2)} s of processor time for ${what.slice(0, 500)}`);
  if (prototypeKeys() !== CLEAN) throw new Error(`a prototype was changed by ${what.slice(0, 500)}`);
}

/** Runs one case; fails where it takes too long or leaves a key on a prototype. */
export function watched<T>(what: string, work: () => T): T {
  const start = process.cpuUsage();
  const result = work();
  judge(process.cpuUsage(start), what);
  return result;
}

/** The same for work that ends later. */
export async function watchedLater<T>(what: string, work: () => Promise<T>): Promise<T> {
  const start = process.cpuUsage();
  const result = await work();
  judge(process.cpuUsage(start), what);
  return result;
}

/** Signs that a terminal obeys or that turn what stands behind them. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
export const OBEYED = /[\0-\b\v-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]/;

/** Faults as the user sees them: at least one, each whole, short and without signs that are obeyed. */
export function expectFaults(faults: readonly FaultDetail[]): void {
  expect(faults.length).toBeGreaterThan(0);
  for (const fault of faults.slice(0, 20)) {
    expect(fault.code).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
    expect(fault.required.length).toBeGreaterThan(0);
    expect(fault.received.length).toBeGreaterThan(0);
    const line = faultLine(fault);
    expect(line.length).toBeLessThan(2500);
    expect(line).not.toMatch(OBEYED);
  }
}

/** Text that somebody wrote to do harm, or that came so by accident. */
export const HOSTILE_TEXTS = [
  '<script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  "';alert(1)//",
  '=cmd|" /C calc"!A0',
  '+1+1',
  '-2+3',
  '@SUM(1)',
  '\t=1+1',
  'a;=1+1',
  '\u202e evil',
  '\u001b[2J\u001b]0;owned\u0007',
  '\u009b31m',
  '\ud800',
  'a\u0000b',
  'one\r\n  0\r\nEOF',
  '__proto__',
  'constructor',
  // biome-ignore lint/suspicious/noTemplateCurlyInString: a template's text, to see that nothing reads it as one.
  '${process.exit(1)}',
  '../../etc/passwd',
  'CON',
  '%s%n%d',
  'x'.repeat(300),
  'שלום 12',
  '👩‍👩‍👧',
  '',
  ' ',
] as const;

export const hostileText = fc.oneof(
  fc.constantFrom(...HOSTILE_TEXTS),
  fc.string({ maxLength: 40 }),
  fc.string({ unit: 'binary', maxLength: 40 }),
);

export const oddNumber = fc.oneof(
  fc.constantFrom(0, -0, 1, -1, 0.1, 1e-9, -1e-9, 1e9, 1e21, 1e308, -1e308, 5e-324, 2 ** 53, Number.NaN),
  fc.constantFrom(Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY),
  fc.double(),
  fc.integer(),
);
