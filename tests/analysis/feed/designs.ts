import type { FeedLink } from '../../../src/analysis/feed/feed-report.ts';
import type { OperatingAnswer } from '../../../src/analysis/types.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parsePath } from '../../../src/design/path.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import type { Design } from '../../../src/design/types.ts';
import { faultLine } from '../../../src/numerics/errors.ts';

/** The demo with values replaced by path. */
export function demoWith(...changes: readonly (readonly [path: string, value: unknown])[]): Design {
  const document = JSON.parse(JSON.stringify(DEMO_DESIGN));
  for (const [path, value] of changes) {
    const parsed = parsePath(path);
    if (!parsed.ok) throw new Error(path);
    const parent = parsed.segments.slice(0, -1).reduce((node, key) => node[key], document);
    parent[parsed.segments[parsed.segments.length - 1]] = value;
  }
  const result = parseDesign(document);
  if (!result.ok) throw new Error(result.faults.map(faultLine).join('\n'));
  return result.design;
}

/** An operating point of invented numbers that balances. */
export const POINT = {
  outputV: 5,
  outputA: 0.78,
  cellC: 33,
  losses: {
    supply: 0.09,
    bridge: 0.05,
    transmitterIdle: 0.09,
    transmitterCoil: 0.2,
    receiverCoil: 0.14,
    rectifier: 0.2,
    regulator: 0.35,
  },
} as OperatingAnswer;

export function linkOf(maxOutputA: number, peakA = maxOutputA): FeedLink {
  const peak = { name: 'start-up', demandA: 0.75, maxOutputA: peakA, marginPercent: 100 * (peakA / 0.75 - 1) };
  return { maxOutputA, peaks: [peak], point: POINT };
}
