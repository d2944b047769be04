import { beforeAll, describe, expect, it } from 'vitest';
import { couplingOf, linkAtPose } from '../../../src/analysis/link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../../../src/analysis/link/link-context.ts';
import { candidateReport, centredInductances } from '../../../src/analysis/pair/candidate-report.ts';
import type { Metrics } from '../../../src/analysis/pair/metrics.ts';
import { narrowModel, narrowPlan, narrowPoses } from '../../../src/analysis/pair/narrow-model.ts';
import { retuned, rivalsOf } from '../../../src/analysis/pair/rivals.ts';
import { differenceOf, type Judged, verdictOf } from '../../../src/analysis/pair/verdict.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { airPair } from './air-pair.ts';

let judged: Judged[];

/** The same pair with so many mm more of reach and so much of k, whatever its inputs do. */
function changed(from: Judged, id: string, reachMm: number, coupling: number): Judged {
  const shifted = (at: Metrics): Metrics => ({
    ...at,
    reachMm: at.reachMm + reachMm,
    coupling: at.coupling * coupling,
  });
  const { report } = from;
  const changes = report.changes.map((entry) => ({ ...entry, up: shifted(entry.up), down: shifted(entry.down) }));
  return { ...from, id, name: `Rival ${id}`, report: { ...report, at: shifted(report.at), changes } };
}

// One pair judged for good, some seconds of exact circuits; its rivals here differ from it by what the tests say.
beforeAll(() => {
  const first = airPair();
  const l = centredInductances(first);
  const rival = rivalsOf(first).candidates.find(({ kind }) => kind === 'sameArea');
  if (!rival) throw new Error('the round rival is missing');
  const { design, ...name } = rival;
  const tuned = retuned(design, l, centredInductances(design));
  const plan = narrowPlan(tuned);
  const model = narrowModel(tuned, plan, narrowPoses(tuned, plan, 0, plan.poses));
  const own: Judged = { ...name, report: candidateReport(tuned, model, []) };
  judged = [own, changed(own, 'a', 2, 0.94), changed(own, 'b', -3, 1.1)];
});

describe('rivals judged', () => {
  it('agrees with direct solves of each pair, centred and at the end of its reach', () => {
    for (const { report } of judged.slice(0, 1)) {
      const { design } = report;
      const direct = linkAtPose(linkContext(design), poseOfDesign(design), 'fine');
      expect(report.at.coupling / couplingOf(direct.electrical)).toBeCloseTo(1, 9);
      expect(report.at.maxOutputA / maxOutput(direct.electrical, boardsOf(design)).current).toBeCloseTo(1, 9);
      // Just inside the reach the exact circuit has the wanted margin in the worst direction, just outside it has not.
      const need = report.margin.demandA * (1 + design.demand.wantedMarginPercent / 100);
      const at = (radiusMm: number): number => {
        const angle = (report.worstDeg * Math.PI) / 180;
        const placement = {
          ...design.placement,
          offsetXMm: radiusMm * Math.cos(angle),
          offsetYMm: radiusMm * Math.sin(angle),
        };
        const moved = { ...design, placement };
        return maxOutput(linkAtPose(linkContext(moved), poseOfDesign(moved), 'fine').electrical, boardsOf(moved))
          .current;
      };
      expect(at(report.reachMm.value - 0.1)).toBeGreaterThan(need);
      expect(at(report.reachMm.value + 0.1)).toBeLessThan(need);
    }
  });

  it('does not depend on the order of the rivals', () => {
    const [own, ...rivals] = judged;
    if (!own) throw new Error('no own pair');
    const forward = verdictOf(own, rivals);
    const backward = verdictOf(own, rivals.toReversed());
    expect(backward.answer).toBe(forward.answer);
    expect(backward.best).toBe(forward.best);
    for (const { id, text } of forward.lines) expect(backward.lines.find((line) => line.id === id)?.text).toBe(text);
  });

  it('calls a pair against itself no difference, and a difference is its own opposite', () => {
    const [own, other] = judged;
    if (!own || !other) throw new Error('pairs are missing');
    for (const measure of ['coupling', 'maxOutputA', 'reachMm', 'alongXMm', 'alongYMm'] as const) {
      const none = differenceOf(own.report, own.report, measure);
      expect([none.value, none.shows]).toEqual([0, false]);
      const there = differenceOf(own.report, other.report, measure);
      const back = differenceOf(other.report, own.report, measure);
      expect(there.value + back.value).toBe(0);
      expect(there.half).toBeCloseTo(back.half, 12);
    }
    const twin = { ...own, id: 'twin', name: 'Twin' };
    const verdict = verdictOf(own, [twin]);
    expect(verdict.best).toBe(own.id);
    expect(verdict.lines[0]?.text).toMatch(/^no difference beyond the error bars/);
  });

  it('names the better pair with numbers that are its own', () => {
    const [own, other] = judged;
    if (!own || !other) throw new Error('pairs are missing');
    const further = changed(other, other.id, 38, 1);
    const verdict = verdictOf(own, [further]);
    expect(verdict.best).toBe(other.id);
    expect(verdict.answer).toContain('gains 40.0');
  });
});
