import { describe, expect, it } from 'vitest';
import { couplingOf, linkAtPose } from '../../../src/analysis/link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../../../src/analysis/link/link-context.ts';
import { differenceOf, verdictOf } from '../../../src/analysis/pair/verdict.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import { createLocalEngine } from '../../../src/engine/local-engine.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { slackAt } from './slack-at.ts';

// The demo's pair and all its rivals with ferrite and cell, some minutes: OFFCENTRE_PAIR=1. Every run: verdict.test.ts, in air.
describe.runIf(process.env.OFFCENTRE_PAIR)('the verdict on the demo, in full', () => {
  it('agrees with direct solutions of every pair, and its order with theirs', async () => {
    const parsed = parseDesign(DEMO_DESIGN);
    if (!parsed.ok) throw new Error('the demo must parse');
    const engine = createLocalEngine();
    const outcome = await engine.rivals({ design: parsed.design, kept: [] });
    engine.dispose();
    if (!outcome.ok) throw new Error(outcome.message);
    const { judged, refused } = outcome.value;
    expect(refused).toEqual([]);
    expect(judged.length).toBe(4);
    const direct = judged.map(({ name, report }) => {
      const { design, at, reachMm, worstDeg } = report;
      const { electrical } = linkAtPose(linkContext(design), poseOfDesign(design), 'fine');
      const coupling = couplingOf(electrical);
      const { current } = maxOutput(electrical, boardsOf(design), { charging: true });
      console.log(name, { coupling, current, reachMm, worstDeg, edgeMm: report.edgeMm });
      expect(at.coupling / coupling).toBeCloseTo(1, 9);
      expect(at.maxOutputA / current).toBeCloseTo(1, 9);
      if (reachMm.value > 0 && reachMm.value < report.edgeMm - 0.5) {
        for (let i = 0; i < 8; i++)
          expect(slackAt(design, Math.max(0, reachMm.value - 0.3), 45 * i), name).toBeGreaterThan(0);
        expect(slackAt(design, reachMm.value + 0.3, worstDeg), name).toBeLessThan(0);
      }
      return { coupling, current };
    });
    const [own, ...rivals] = judged as [(typeof judged)[0], ...typeof judged];
    rivals.forEach((rival, i) => {
      const coupling = differenceOf(own.report, rival.report, 'coupling');
      expect(coupling.value).toBeCloseTo(direct[i + 1]!.coupling - direct[0]!.coupling, 9);
      const current = differenceOf(own.report, rival.report, 'maxOutputA');
      expect(current.value).toBeCloseTo(direct[i + 1]!.current - direct[0]!.current, 9);
    });
    const verdict = verdictOf(own, rivals);
    console.log(verdict);
    const best = judged.find(({ id }) => id === verdict.best)!;
    for (const { report, id } of rivals) {
      const reach = differenceOf(best.report, report, 'reachMm');
      if (id !== best.id && reach.shows) expect(reach.value).toBeLessThan(0);
    }
    expect(verdictOf(own, rivals.toReversed())).toEqual({ ...verdict, lines: verdict.lines.toReversed() });
  }, 3_600_000);
});
