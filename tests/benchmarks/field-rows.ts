import { readFileSync } from 'node:fs';
import { linkContext } from '../../src/analysis/link/link-context.ts';
import { passPoses, poseAt, solvePassPoses } from '../../src/analysis/link/link-model.ts';
import { LINK_PASSES } from '../../src/analysis/link/link-passes.ts';
import { planModel } from '../../src/analysis/link/model-plan.ts';
import { quickAnswer } from '../../src/analysis/margin/quick-answer.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { createFieldModel, type FieldLevel } from '../../src/physics/field/field-model.ts';
import { AIR1, distanceOf, linkOf, pose, type Region } from '../physics/field/fixtures.ts';
import { duration, type Row, type Target } from './table.ts';
import { sink, type Timing, time } from './timing.ts';

const GAPS_MM = [10, 5, 2];
const LEVELS: readonly FieldLevel[] = ['rough', 'coarse', 'fine'];

/** Processor time of work that can be done only once. */
function once(work: () => unknown): Timing {
  const start = process.cpuUsage();
  sink.value = work();
  const { user, system } = process.cpuUsage(start);
  const ms = (user + system) / 1e3;
  return { min: ms, median: ms, max: ms, runs: 1 };
}

/** Two ferrite plates against finite elements, and the demo's link model from nothing. */
export function fieldRows(): { rows: Row[]; targets: Target[] } {
  const rows: Row[] = [];
  const targets: Target[] = [];
  const cases = JSON.parse(readFileSync('reference-cases/ferrite/cases.json', 'utf8')) as {
    id: string;
    regions: Region[];
  }[];
  const discs = cases.find(({ id }) => id === 'ferrite-discs')!.regions.flatMap((region) => region.rows);
  const group = 'two ferrite plates, plates set up, error of L1 against finite elements';
  for (const gapMm of GAPS_MM) {
    const row = discs.find(({ inputs, expected }) => inputs.gapMm === gapMm && expected.M !== undefined)!;
    const { transmitter, receiver } = linkOf(row);
    const model = createFieldModel(transmitter, receiver);
    const at = pose(distanceOf(gapMm));
    for (const level of LEVELS) {
      const change = model.solve(at, level);
      const taken = time(() => model.solve(at, level), 400, 3);
      const error = Math.abs((AIR1 + 1e6 * change.dL1) / row.expected.L1! - 1);
      rows.push({
        group,
        name: `gap ${gapMm} mm, ${level}`,
        time: taken,
        error,
        note: `${row.id}; ${change.listeners} panels listened to; claims ${((1e6 * change.errors.dL1) / row.expected.L1!).toExponential(1)}`,
        ratios: {},
      });
      if (level === 'fine') {
        targets.push({
          name: `one pose, two grids and error estimate, gap ${gapMm} mm`,
          wanted: '60 ms, L within 0.3 %',
          measured: `${duration(taken.min)}, ${error.toExponential(1)}`,
          met: taken.min <= 60 && error <= 0.003,
        });
      }
    }
  }
  const parsed = parseDesign(DEMO_DESIGN);
  if (!parsed.ok) throw new Error('the demo has faults');
  const { design } = parsed;
  const first = once(() => quickAnswer(design, null));
  const context = linkContext(design);
  const plan = planModel(design);
  const passes = LINK_PASSES.map((pass) =>
    once(() =>
      solvePassPoses(context, plan.attitude, passPoses(context, plan.attitude, plan.domain, pass), pass.level),
    ),
  );
  const here = poseAt(context, plan.attitude, 0, 0, design.placement.gapMm / 1e3);
  const fine = context.plates!.at(here, 'fine');
  const rough = context.plates!.at(here, 'rough');
  const demo = 'demo with ferrite and metal, from nothing, one core';
  const add = (name: string, taken: Timing, error: number | null, note: string) =>
    rows.push({ group: demo, name, time: taken, error, note, ratios: {} });
  add('first number', first, Math.abs(rough.dL1 / fine.dL1 - 1), 'error of the change of L1 against the fine grids');
  add('coarse pass', passes[0]!, null, `${plan.passCounts[0]} poses`);
  add('correction pass', passes[1]!, null, `${plan.passCounts[1]} poses; the model measures its own bound`);
  const total = passes[0]!.min + passes[1]!.min;
  targets.push({
    name: 'link model of the demo, both passes on two cores',
    wanted: '15 s',
    measured: duration(total / 2),
    met: total / 2 <= 15_000,
  });
  return { rows, targets };
}
