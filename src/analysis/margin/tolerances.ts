import { guessedValues } from '../../design/guess.ts';
import type { Design, FerriteDocument } from '../../design/types.ts';
import { boardPercent } from '../../design/unknown-board.ts';

/** One uncertain input: which way it enters, and the half-width of its 95 % interval. */
export interface Tolerance {
  readonly name: string;
  readonly path: string;
  /** Printed with its unit: `± 5 %`, `± 0.2 mm`. */
  readonly text: string;
  readonly enters: /** Added to the gap, m. */
    | { readonly kind: 'gap'; readonly by: number }
    /** Relative change of an inductance (and of M by its root). */
    | { readonly kind: 'l1' | 'l2'; readonly by: number }
    /** A plate's property; the link's answer to it is tabulated by `plateSensitivity`. */
    | { readonly kind: 'plate'; readonly side: 'transmitter' | 'receiver'; readonly property: PlateProperty }
    /** The value at `path` of the document is moved by this much; the boards follow. */
    | { readonly kind: 'board'; readonly by: number };
}

export type PlateProperty = 'relativePermeability' | 'standoffMm';

/**
 * Tolerance of the gap, mm: root sum of squares over the stack's layers; without a stack, 5 % of the gap but at least
 * 0.1 mm, as read with a ruler (common practice, no source).
 */
export function gapToleranceMm(design: Design): number {
  if (design.stack.length === 0) return Math.max(0.1, 0.05 * design.placement.gapMm);
  return Math.hypot(...design.stack.map((layer) => layer.toleranceMm));
}

interface PercentInput {
  readonly name: string;
  readonly path: string;
  readonly value: number;
  readonly percent: number;
}

function percentInputs({ transmitter: { drive }, receiver: { pickup } }: Design): PercentInput[] {
  return [
    {
      name: 'transmitter series capacitor',
      path: 'transmitter.drive.seriesCapacitanceNf',
      value: drive.seriesCapacitanceNf,
      percent: boardPercent(drive.seriesCapacitanceTolerancePercent, drive.unknown, 'capacitor'),
    },
    {
      name: 'receiver series capacitor',
      path: 'receiver.pickup.seriesCapacitanceNf',
      value: pickup.seriesCapacitanceNf,
      percent: boardPercent(pickup.seriesCapacitanceTolerancePercent, pickup.unknown, 'capacitor'),
    },
    {
      name: 'supply voltage',
      path: 'transmitter.drive.supplyV',
      value: drive.supplyV,
      percent: boardPercent(drive.supplyTolerancePercent, drive.unknown, 'supply'),
    },
    {
      name: 'lowest frequency',
      path: 'transmitter.drive.frequencyMinKhz',
      value: drive.frequencyMinKhz,
      percent: boardPercent(drive.frequencyTolerancePercent, drive.unknown, 'frequency'),
    },
  ];
}

/** Every input that is known only within a tolerance, stated or that of a guess. */
export function tolerancesOf(design: Design): Tolerance[] {
  const out: Tolerance[] = [];
  const gap = gapToleranceMm(design);
  out.push({
    name: 'gap',
    path: 'placement.gapMm',
    text: `± ${gap.toFixed(2)} mm`,
    enters: { kind: 'gap', by: gap / 1e3 },
  });
  for (const { name, path, value, percent } of percentInputs(design)) {
    if (percent > 0)
      out.push({ name, path, text: `± ${percent} %`, enters: { kind: 'board', by: (value * percent) / 100 } });
  }
  for (const side of ['transmitter', 'receiver'] as const) {
    const part = design[side];
    const percent = part.coil.inductanceTolerancePercent;
    if (percent > 0)
      out.push({
        name: `${side} inductance`,
        path: `${side}.coil.inductanceUh`,
        text: `± ${percent} %`,
        enters: { kind: side === 'transmitter' ? 'l1' : 'l2', by: percent / 100 },
      });
    if (part.ferrite) out.push(...ferriteTolerances(side, part.ferrite));
  }
  const stated = new Set(out.map((tolerance) => tolerance.path));
  for (const guess of guessedValues(design)) {
    if (stated.has(guess.path) || !/\.(drive|pickup|thermal)\./.test(guess.path)) continue;
    if (/Tolerance/.test(guess.path)) continue;
    out.push({
      name: `${guess.label} (not given)`,
      path: guess.path,
      text: `± ${Number(guess.halfWidth.toPrecision(2))}`,
      enters: { kind: 'board', by: guess.halfWidth },
    });
  }
  return out;
}

function ferriteTolerances(side: 'transmitter' | 'receiver', ferrite: FerriteDocument): Tolerance[] {
  const out: Tolerance[] = [];
  if (ferrite.relativePermeabilityTolerancePercent > 0)
    out.push({
      name: `${side} ferrite permeability`,
      path: `${side}.ferrite.relativePermeability`,
      text: `± ${ferrite.relativePermeabilityTolerancePercent} %`,
      enters: { kind: 'plate', side, property: 'relativePermeability' },
    });
  if (ferrite.standoffToleranceMm > 0)
    out.push({
      name: `${side} ferrite standoff`,
      path: `${side}.ferrite.standoffMm`,
      text: `± ${ferrite.standoffToleranceMm} mm`,
      enters: { kind: 'plate', side, property: 'standoffMm' },
    });
  return out;
}
