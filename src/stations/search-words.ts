import { outerBox } from '../analysis/pair/outline-size.ts';
import { type FoundDesign, gainOf, type SearchAnswer } from '../analysis/pair/search-answer.ts';
import type { SearchGoal } from '../analysis/pair/search-space.ts';
import type { ParetoPoint } from '../charts/pareto-chart.ts';
import type { CoilDocument } from '../design/types.ts';
import { label } from './glossary.ts';

export function gainText(goal: SearchGoal, value: number): string {
  return goal === 'current' ? `${value.toFixed(2)} A` : `${value.toFixed(1)} mm of reach`;
}

/** A coil in a few words. */
function coilText(coil: CoilDocument): string {
  const { outline, turns, layers } = coil;
  const size =
    outline.shape === 'circle'
      ? `⌀ ${outline.outerDiameterMm.toFixed(1)} mm`
      : outline.shape === 'path'
        ? 'free outline'
        : `${label(outline.shape)} ${outline.outerWidthMm.toFixed(1)} × ${outline.outerHeightMm.toFixed(1)} mm`;
  return `${size}, ${turns} turns in ${layers} ${layers === 1 ? 'layer' : 'layers'}, ${wireText(coil)}`;
}

function wireText({ conductor }: CoilDocument): string {
  if (conductor.kind === 'litz') return `${conductor.strands} × ${conductor.strandDiameterMm} mm litz`;
  return conductor.kind === 'solid' ? `${conductor.diameterMm} mm wire` : `${conductor.widthMm.toFixed(2)} mm trace`;
}

export function searchSentence({ goal, own, confirmed, front, trials }: SearchAnswer): string {
  const best = confirmed[0];
  const tried = `${trials} coils tried.`;
  if (!best)
    return front.length === 0
      ? `Nothing in this space keeps the wanted margin. ${tried}`
      : `Nothing could be confirmed. ${tried}`;
  const of = (report: SearchAnswer['own']): number =>
    goal === 'reach'
      ? report.at.reachMm
      : goal === 'current'
        ? report.at.maxOutputA
        : report.operatingPoint.losses.transmitterCoil +
          report.operatingPoint.losses.receiverCoil +
          report.operatingPoint.losses.rectifier +
          report.operatingPoint.losses.regulator;
  const [before, after] = [of(own), of(best.report)];
  const unit = goal === 'reach' ? 'mm of reach' : goal === 'current' ? 'A' : 'W of loss';
  const digits = goal === 'reach' ? 1 : 2;
  const side =
    JSON.stringify(best.design.receiver) === JSON.stringify(own.design.receiver) ? 'transmitter' : 'receiver';
  const coil = coilText(best.design[side].coil);
  const better = goal === 'heat' ? after < before * 0.99 : after > before * 1.01;
  if (!better)
    return `Nothing in this space does better than the present coil (${before.toFixed(digits)} ${unit}). ${tried}`;
  const factor = side === 'receiver' ? best.design.receiver.pickup : best.design.transmitter.drive;
  return `${after.toFixed(digits)} ${unit} instead of ${before.toFixed(digits)}, solved directly: ${coil}, with ${Number(factor.seriesCapacitanceNf.toPrecision(3))} nF. ${tried}`;
}

/** What the direct solution gives for a found design, in the goal's unit; null where it was not asked. */
function directGain(
  found: FoundDesign,
  side: 'transmitter' | 'receiver',
  goal: SearchGoal,
  answer: SearchAnswer | null,
) {
  const same = JSON.stringify(found.design[side]);
  const at = answer?.confirmed.find((entry) => JSON.stringify(entry.design[side]) === same)?.report.at;
  if (!at) return null;
  return goal === 'current' ? at.maxOutputA : at.reachMm;
}

/** The front as the chart takes it. */
export function frontPoints(
  front: readonly FoundDesign[],
  side: 'transmitter' | 'receiver',
  goal: SearchGoal,
  answer: SearchAnswer | null,
): ParetoPoint[] {
  return front.map((found) => ({
    gain: gainOf(goal, found.result),
    cost: found.result.lossW,
    name: `${gainText(goal, gainOf(goal, found.result))}, ${found.result.lossW.toFixed(2)} W: ${coilText(found.design[side].coil)}`,
    direct: directGain(found, side, goal, answer),
  }));
}

/** The front as a table: quick values of every design, direct ones where they were solved, then the coil. */
export function frontCsv(
  front: readonly FoundDesign[],
  side: 'transmitter' | 'receiver',
  goal: SearchGoal,
  answer: SearchAnswer | null,
): string {
  const head = [
    'reach mm',
    'largest current A',
    'loss at the demand W',
    'receiver C',
    goal === 'current' ? 'largest current solved directly A' : 'reach solved directly mm',
    'shape',
    'outer width mm',
    'outer height mm',
    'turns',
    'layers',
    'conductor',
    'series capacitor nF',
  ];
  const rows = front.map((found) => {
    const { reachMm, maxOutputA, lossW, receiverC } = found.result;
    const { coil } = found.design[side];
    const { widthMm, heightMm } = outerBox(coil);
    const direct = directGain(found, side, goal, answer);
    const { drive } = found.design.transmitter;
    const { pickup } = found.design.receiver;
    return [
      reachMm.toFixed(2),
      maxOutputA.toFixed(3),
      lossW.toFixed(3),
      receiverC.toFixed(1),
      direct === null ? '' : direct.toFixed(goal === 'current' ? 3 : 2),
      coil.outline.shape,
      widthMm.toFixed(2),
      heightMm.toFixed(2),
      coil.turns,
      coil.layers,
      `"${wireText(coil)}"`,
      (side === 'receiver' ? pickup : drive).seriesCapacitanceNf,
    ].join(',');
  });
  return `${[head.join(','), ...rows].join('\n')}\n`;
}
