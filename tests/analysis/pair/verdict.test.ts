import { beforeAll, describe, expect, it } from 'vitest';
import { couplingOf, linkAtPose } from '../../../src/analysis/link/link-at-pose.ts';
import { linkContext, poseOfDesign } from '../../../src/analysis/link/link-context.ts';
import type { RivalsAnswer } from '../../../src/analysis/pair/verdict.ts';
import { differenceOf, verdictOf } from '../../../src/analysis/pair/verdict.ts';
import { boardsOf } from '../../../src/design/to-si.ts';
import { createLocalEngine } from '../../../src/engine/local-engine.ts';
import { maxOutput } from '../../../src/physics/circuit/max-output.ts';
import { airPair } from './air-pair.ts';

let answer: RivalsAnswer;

beforeAll(async () => {
  const outcome = await createLocalEngine().rivals({ design: airPair(), kept: [] });
  if (!outcome.ok) throw new Error(outcome.message);
  answer = outcome.value;
});

describe('rivals judged', () => {
  it('judges the pair and its three rivals', () => {
    expect(answer.judged.map((entry) => entry.kind)).toEqual(['own', 'sameArea', 'sameBox', 'matchedTransmitter']);
    for (const { report } of answer.judged) {
      expect(report.reachMm.value).toBeGreaterThan(1);
      expect(report.receiverCopper.lengthM).toBeGreaterThan(0.5);
    }
  });

  it('agrees with direct solves of each pair, centred and at the end of its reach', () => {
    for (const { report } of answer.judged) {
      const { design } = report;
      const direct = linkAtPose(linkContext(design), poseOfDesign(design), 'fine');
      expect(report.at.coupling / couplingOf(direct.electrical)).toBeCloseTo(1, 3);
      expect(report.at.maxOutputA / maxOutput(direct.electrical, boardsOf(design)).current).toBeCloseTo(1, 1);
      // Just inside the reach the exact circuit has the wanted margin in the worst direction, just outside it has not:
      // within 2 % of the demand, to which a map is corrected.
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
      expect(at(report.reachMm.value - 0.4)).toBeGreaterThan(0.98 * need);
      expect(at(report.reachMm.value + 0.4)).toBeLessThan(1.02 * need);
    }
  });

  it('does not depend on the order of the rivals', () => {
    const [own, ...rivals] = answer.judged;
    if (!own) throw new Error('no own pair');
    const forward = verdictOf(own, rivals);
    const backward = verdictOf(own, rivals.toReversed());
    expect(backward.answer).toBe(forward.answer);
    expect(backward.best).toBe(forward.best);
    for (const { id, text } of forward.lines) expect(backward.lines.find((line) => line.id === id)?.text).toBe(text);
  });

  it('calls a pair against itself no difference, and a difference is its own opposite', () => {
    const [own, other] = answer.judged;
    if (!own || !other) throw new Error('pairs are missing');
    for (const measure of ['coupling', 'maxOutputA', 'reachMm', 'alongXMm', 'alongYMm'] as const) {
      const none = differenceOf(own.report, own.report, measure);
      expect([none.value, none.shows]).toEqual([0, false]);
      const there = differenceOf(own.report, other.report, measure);
      const back = differenceOf(other.report, own.report, measure);
      expect(there.value).toBe(-back.value);
      expect(there.half).toBeCloseTo(back.half, 12);
    }
    const twin = { ...own, id: 'twin', name: 'Twin' };
    const verdict = verdictOf(own, [twin]);
    expect(verdict.best).toBe(own.id);
    expect(verdict.lines[0]?.text).toMatch(/^no difference beyond the error bars/);
  });

  it('names the better pair with numbers that are its own', () => {
    const [own, other] = answer.judged;
    if (!own || !other) throw new Error('pairs are missing');
    const further = {
      ...other,
      report: { ...other.report, at: { ...other.report.at, reachMm: own.report.at.reachMm + 40 } },
    };
    const verdict = verdictOf(own, [further]);
    expect(verdict.best).toBe(other.id);
    expect(verdict.answer).toContain('gains 40.0');
  });
});
