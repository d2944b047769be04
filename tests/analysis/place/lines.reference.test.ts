import { expect, test } from 'vitest';
import { linkAtPose } from '../../../src/analysis/link/link-at-pose.ts';
import { contextOf, poseOfDesign } from '../../../src/analysis/link/link-context.ts';
import { chargesCell } from '../../../src/analysis/margin/pose-answer.ts';
import { designAt } from '../../../src/analysis/place/line-sweep.ts';
import { demandOf } from '../../../src/design/demand.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { STARTING_POINTS } from '../../../src/design/starting-points.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import type { Design } from '../../../src/design/types.ts';
import { createEngine } from '../../../src/engine/coordinator.ts';
import { createLocalRunner } from '../../../src/engine/local-runner.ts';
import type { Runner } from '../../../src/engine/runner.ts';
import { randomSource } from '../../../src/numerics/random.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import type { LinkElectrical } from '../../../src/physics/circuit/types.ts';
import { airPair } from '../pair/air-pair.ts';

const POINTS = 41;
const CHECKED = 10;
const SEED = Number(process.env.OFFCENTRE_SEED ?? 20261217);

/** An engine in this thread which also tells the links its lines were made from, by place. */
function listening() {
  const local = createLocalRunner();
  const links = new Map<number, LinkElectrical>();
  const runner: Runner = {
    ...local,
    async run(name, args, options) {
      const outcome = await local.run(name, args, options);
      if (name === 'sweepPart' && outcome.ok)
        for (const { at, link } of outcome.value as { at: number; link: LinkElectrical | null }[])
          if (link) links.set(at, link);
      return outcome;
    },
  };
  return { engine: createEngine(runner, () => performance.now()), links };
}

/** Parts of the demand, %, by which points of random lines are off the exact circuit. */
async function distances(
  designs: readonly Design[],
  between: (a: number, b: number) => number,
  linkOf: (design: Design, links: ReadonlyMap<number, LinkElectrical>, at: number) => LinkElectrical,
): Promise<number[]> {
  const { engine, links } = listening();
  const off: number[] = [];
  for (const design of designs) {
    const { demandA } = demandOf(design);
    for (const axis of ['gap', 'offsetX'] as const) {
      const range =
        axis === 'gap'
          ? { from: between(0.8, 1.5), to: between(12, 30) }
          : { from: -between(12, 24), to: between(12, 24) };
      links.clear();
      const outcome = await engine.sweep({ design, axis, points: POINTS, ...range });
      if (!outcome.ok) throw new Error(outcome.message);
      const { at, maxOutputA, states } = outcome.value;
      for (let k = 0; k < CHECKED; k++) {
        const i = Math.floor(between(0, POINTS));
        if (states[i] === null) continue;
        const link = linkOf(designAt(design, axis, at[i]!), links, at[i]!);
        const exact = maxOutput(link, boardsOf(design), { charging: chargesCell(design, demandOf(design)) });
        off.push((100 * Math.abs(maxOutputA[i]! - exact.current)) / demandA);
      }
    }
  }
  return off.toSorted((a, b) => a - b);
}

function drawn(base: Design, between: (a: number, b: number) => number): Design {
  const design = structuredClone(base);
  design.stack = [];
  design.transmitter.drive.supplyV *= between(0.8, 1.5);
  design.transmitter.drive.seriesCapacitanceNf *= between(0.7, 1.4);
  design.receiver.pickup.seriesCapacitanceNf *= between(0.7, 1.4);
  return design;
}

function drawing(seed: number) {
  const source = randomSource(seed);
  return (a: number, b: number) => a + (b - a) * source.uniform();
}

// The bounds are what tuning seeds 101 (air) and 102 (plates) left, with room: see DEVELOPERS.md, "Numerical changes".
test('coils alone: lines agree with the exact circuit on a link solved anew', async () => {
  const between = drawing(SEED);
  const designs = Array.from({ length: 4 }, () => {
    const design = drawn(airPair(), between);
    design.placement.gapMm = between(2, 9);
    return design;
  });
  const off = await distances(
    designs,
    between,
    (here) => linkAtPose(contextOf(here, null), poseOfDesign(here), 'coarse').electrical,
  );
  expect(off.length).toBeGreaterThan(60);
  expect(off[Math.floor(0.95 * off.length)]).toBeLessThan(0.5);
  expect(off.at(-1)).toBeLessThan(3);
}, 120_000);

test('over plates: lines agree with the exact circuit on the same links', async () => {
  const between = drawing(SEED + 1);
  const parsed = parseDesign(STARTING_POINTS.find(({ id }) => id === 'handheld')!.document);
  if (!parsed.ok) throw new Error('a starting point must parse');
  const designs = Array.from({ length: 4 }, () => drawn(parsed.design, between));
  const off = await distances(designs, between, (_, links, at) => links.get(at)!);
  expect(off.length).toBeGreaterThan(60);
  expect(off[Math.floor(0.95 * off.length)]).toBeLessThan(0.5);
  expect(off.at(-1)).toBeLessThan(3);
}, 120_000);
