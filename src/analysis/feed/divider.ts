import { dividerOutputV, legKohm } from '../../design/divider-output.ts';
import type { FeedbackDocument, LegDocument } from '../../design/types.ts';

/** Tolerance of a trimmer's track, relative. Common practice, no source. */
export const TRIMMER_TOLERANCE = 0.2;

export interface DividerReading {
  readonly outputV: number;
  readonly topKohm: number;
  readonly bottomKohm: number;
  /** top / (top + bottom): how strongly a resistor's error reaches the output. */
  readonly share: number;
  /** Relative half-widths of the output. */
  readonly worst: number;
  readonly rss: number;
  /** Output over the trimmers' whole travel, V; equal where there is none. */
  readonly lowV: number;
  readonly highV: number;
  /** From the output through the divider, A. */
  readonly currentA: number;
}

/** How much of a leg's relative change each of its parts makes, and the part's tolerance. */
function partsOf(leg: LegDocument, tolerance: number): { weight: number; tolerance: number }[] {
  const whole = legKohm(leg);
  const used = leg.trimmerTurn * leg.trimmerKohm;
  const row = leg.resistorKohm + leg.seriesKohm + used;
  // d ln(leg) / d ln(part): the row's share is leg / row, the parallel resistor's leg / parallel.
  const inRow = whole / row;
  const parts = [
    { weight: (inRow * leg.resistorKohm) / row, tolerance },
    { weight: (inRow * leg.seriesKohm) / row, tolerance },
    { weight: (inRow * used) / row, tolerance: TRIMMER_TOLERANCE },
  ];
  if (leg.parallelKohm !== null) parts.push({ weight: whole / leg.parallelKohm, tolerance });
  return parts;
}

/**
 * An adjustable converter's feedback divider: V = Vref (1 + Rt / Rb).
 *
 * Tolerance: dV/V = dVref/Vref + a (dRt/Rt - dRb/Rb) with a = Rt / (Rt + Rb), every part of a leg by its share of the leg's
 * change; worst case with all against each other, rss as independent. Source: first-order propagation, textbook.
 * Accuracy: reference-cases/chain, divider; the worst case agrees to first order with the corners of all parts (seeded).
 */
export function readDivider(feedback: FeedbackDocument): DividerReading {
  const { top, bottom, referenceTolerancePercent, resistorTolerancePercent } = feedback;
  const topKohm = legKohm(top);
  const bottomKohm = legKohm(bottom);
  const share = topKohm / (topKohm + bottomKohm);
  const parts = [top, bottom].flatMap((leg) => partsOf(leg, resistorTolerancePercent / 100));
  const reference = referenceTolerancePercent / 100;
  const errors = parts.map((part) => share * part.weight * part.tolerance);
  const ends = [0, 1].flatMap((a) =>
    [0, 1].map((b) =>
      dividerOutputV({ ...feedback, top: { ...top, trimmerTurn: a }, bottom: { ...bottom, trimmerTurn: b } }),
    ),
  );
  const outputV = dividerOutputV(feedback);
  return {
    outputV,
    topKohm,
    bottomKohm,
    share,
    worst: reference + errors.reduce((sum, error) => sum + error, 0),
    rss: Math.hypot(reference, ...errors),
    lowV: Math.min(...ends),
    highV: Math.max(...ends),
    currentA: outputV / ((topKohm + bottomKohm) * 1e3),
  };
}

export interface DividerChange {
  readonly fromV: number;
  readonly toV: number;
  /** The output moved away from what is wanted. */
  readonly wrongWay: boolean;
  /** Plain words; empty where the output did not move. */
  readonly sentence: string;
}

const volts = (value: number): string => `${value.toFixed(2)} V`;

/**
 * What a change of the divider did to the output, against what the loads want: says so when it went the wrong way.
 *
 * @param wantedV voltage the loads take their current at, V.
 */
export function dividerChange(before: FeedbackDocument, after: FeedbackDocument, wantedV: number): DividerChange {
  const fromV = dividerOutputV(before);
  const toV = dividerOutputV(after);
  const moved = Math.abs(toV - fromV) > 1e-9 * fromV;
  const wrongWay = moved && Math.abs(toV - wantedV) > Math.abs(fromV - wantedV);
  if (!moved) return { fromV, toV, wrongWay, sentence: '' };
  const way = toV > fromV ? 'raised' : 'lowered';
  const said = `That ${way} the output from ${volts(fromV)} to ${volts(toV)}.`;
  if (!wrongWay) return { fromV, toV, wrongWay, sentence: said };
  const parallel = (['top', 'bottom'] as const).find((leg) => paralleled(before[leg], after[leg]));
  const reason = parallel
    ? ` A parallel resistor always makes its leg smaller, and a smaller ${parallel} leg ${parallel === 'top' ? 'lowers' : 'raises'} the output.`
    : '';
  const mend =
    toV > wantedV
      ? 'To lower it, make the top leg smaller or the bottom leg larger.'
      : 'To raise it, make the top leg larger or the bottom leg smaller.';
  return {
    fromV,
    toV,
    wrongWay,
    sentence: `${said} The loads want ${volts(wantedV)}: the wrong way.${reason} ${mend}`,
  };
}

/** A resistor was put across the leg, or one there made smaller. */
function paralleled(before: LegDocument, after: LegDocument): boolean {
  return after.parallelKohm !== null && after.parallelKohm < (before.parallelKohm ?? Number.POSITIVE_INFINITY);
}

export interface DividerMend {
  readonly leg: 'top' | 'bottom';
  readonly parallelKohm: number;
}

/** The one parallel resistor that would bring the output to what is wanted; null where it is there already. */
export function mendingResistor(feedback: FeedbackDocument, wantedV: number): DividerMend | null {
  const top = legKohm(feedback.top);
  const bottom = legKohm(feedback.bottom);
  const ratio = wantedV / feedback.referenceV - 1;
  if (!(ratio > 0) || Math.abs(dividerOutputV(feedback) / wantedV - 1) < 1e-3) return null;
  const leg = top / bottom > ratio ? 'top' : 'bottom';
  const now = leg === 'top' ? top : bottom;
  const needed = leg === 'top' ? ratio * bottom : top / ratio;
  return { leg, parallelKohm: (now * needed) / (now - needed) };
}
