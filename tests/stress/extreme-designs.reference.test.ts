import { appendFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import type { PoseAnswer } from '../../src/analysis/types.ts';
import { file, tell } from '../cli/capture.ts';
import { randomDesign } from './random-design.ts';

/**
 * Extreme but legal designs by the path of the command line: as many as OFFCENTRE_STRESS says, else a few. Another
 * OFFCENTRE_SEED is another set. OFFCENTRE_STRESS_LOG names a file that gets a line for each draw before and after it.
 *
 *     OFFCENTRE_STRESS=1000 npx vitest run --project reference tests/stress/extreme-designs.reference.test.ts
 */
const LONG = process.env.OFFCENTRE_STRESS !== undefined;
const COUNT = Number(process.env.OFFCENTRE_STRESS ?? 6);
const SEED = Number(process.env.OFFCENTRE_SEED ?? 20261128);
const LOG = process.env.OFFCENTRE_STRESS_LOG;
/** Processor time that one answer may take, s. */
const MOST_SECONDS = 30;

/** Where `null` may stand in the answer for a number: it does not apply there. */
const MAY_BE_NULL = /^(exposure|operatingPoint\.(methodError|limitedBy)|margin\.limits\.\w+)$/;

function missing(value: unknown, path = ''): string[] {
  if (value === null) return MAY_BE_NULL.test(path) ? [] : [path];
  if (typeof value !== 'object') return [];
  return Object.entries(value as object).flatMap(([key, entry]) =>
    missing(entry, path === '' ? key : `${path}.${key}`),
  );
}

interface Ending {
  readonly seed: number;
  readonly how: string;
  readonly seconds: number;
  readonly faults: readonly string[];
}

async function endingOf(seed: number, plates: boolean): Promise<Ending> {
  if (LOG) appendFileSync(LOG, `${seed} ...\n`);
  const before = process.cpuUsage();
  let how: string;
  let faults: string[];
  try {
    const told = await tell('solve', file(randomDesign(seed, plates)), '--json');
    if (told.code === 0) {
      const answer = JSON.parse(told.out);
      faults = answerFaults(answer);
      how = `answer ${answer.operatingPoint.state}`;
    } else {
      how =
        told.code === 1
          ? `refused ${told.lines[0] ?? JSON.parse(told.out).faults?.[0]?.code}`
          : `exit ${told.code} ${told.lines[0]}`;
      faults = told.code === 1 || told.code === 3 ? [] : ['neither an answer nor a named refusal'];
    }
  } catch (error) {
    how = 'thrown';
    faults = [error instanceof Error ? (error.stack ?? error.message).slice(0, 600) : String(error)];
  }
  const { user, system } = process.cpuUsage(before);
  const seconds = (user + system) / 1e6;
  if (seconds > MOST_SECONDS) faults.push(`${seconds.toFixed(0)} s of processor time`);
  if (LOG) appendFileSync(LOG, `${seed} ${seconds.toFixed(2)} s ${how.slice(0, 160)} ${faults.join(' | ')}\n`);
  return { seed, how, seconds, faults };
}

/** What must hold for every answer, whatever the design. */
function answerFaults(answer: PoseAnswer): string[] {
  const faults = missing(answer).map((path) => `no number at ${path}`);
  const { link, operatingPoint: point, margin } = answer;
  const must = (holds: boolean, what: string) => {
    if (!holds) faults.push(what);
  };
  must(Math.abs(link.coupling) < 1, `k ${link.coupling}`);
  must(Math.abs(link.air.coupling) < 1, `k in air ${link.air.coupling}`);
  must(link.transmitterInductanceH > 0 && link.receiverInductanceH > 0, 'L not above 0');
  must(link.transmitterResistanceOhm > 0 && link.receiverResistanceOhm > 0, 'R not above 0');
  must(link.linkEfficiencyLimit >= 0 && link.linkEfficiencyLimit <= 1, `limit ${link.linkEfficiencyLimit}`);
  for (const [key, error] of Object.entries(link.errors)) must(error >= 0, `error of ${key} ${error}`);
  must(link.errors.transmitterInductanceH > 0 && link.errors.receiverInductanceH > 0, 'no error bar at L');
  for (const [key, loss] of Object.entries(point.losses)) must(loss >= 0, `loss ${key} ${loss}`);
  must(point.efficiency >= 0 && point.efficiency <= 1, `efficiency ${point.efficiency}`);
  const { low, value, high } = margin.maxOutputBand;
  must(low <= value && value <= high && low >= 0, `band ${low} ${value} ${high}`);
  return faults;
}

describe(`extreme but legal designs, ${COUNT} from seed ${SEED}`, () => {
  test(
    'each ends in an answer with an error bar or in a named refusal',
    async () => {
      const endings: Ending[] = [];
      for (let i = 0; i < COUNT; i++) {
        // Plates take seconds: in every run once, in the long one always.
        endings.push(await endingOf(SEED + i, LONG || i === 1));
      }
      const answers = endings.filter((ending) => ending.how.startsWith('answer'));
      const slowest = Math.max(...endings.map((ending) => ending.seconds));
      console.info(`${answers.length} answers of ${COUNT}, the slowest ${slowest.toFixed(1)} s`);
      expect(endings.filter((ending) => ending.faults.length > 0)).toEqual([]);
      expect(answers.length).toBeGreaterThan(COUNT / 5);
    },
    COUNT * 60_000,
  );
});
