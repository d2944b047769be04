import type { ExposureReport } from '../../analysis/exposure/exposure-report.ts';
import {
  EXPOSURE_PROVISO,
  fluxWords,
  harmonicWords,
  levelName,
  metDistanceWords,
  roughWatts,
} from '../../analysis/exposure/exposure-words.ts';
import { limitWords } from '../../analysis/margin/state-sentence.ts';
import type { PoseAnswer, Uncertain } from '../../analysis/types.ts';
import type { Design } from '../../design/types.ts';
import { createLocalEngine } from '../../engine/local-engine.ts';
import { formatBand, formatQuantity } from '../../units/format.ts';
import type { UnitName } from '../../units/unit-table.ts';
import type { Command } from '../command.ts';
import { tellFailure } from '../engine.ts';
import { outDirectory, writeTexts } from '../files.ts';
import { readDesign, tellFaults } from '../read-design.ts';
import { table } from '../table.ts';
import { EXIT, jsonText } from '../terminal.ts';

/** Numerical errors below this share of the value are not worth printing: the inputs are never known so well. */
const WORTH_PRINTING = 1e-4;

function show(value: number, unit: UnitName, error = 0): string {
  if (error > WORTH_PRINTING * Math.abs(value)) return formatQuantity(value, unit, { space: ' ', error });
  return formatQuantity(value, unit, { space: ' ', digits: error > 0 ? 4 : 3 });
}

function band(range: Uncertain, unit: UnitName): string {
  if (!(range.high - range.low > 1e-3 * Math.abs(range.value))) return '';
  return `(${formatBand(range.low, range.high, unit, { space: ' ' })})`;
}

const LOSSES = [
  ['supply', 'supply and cable'],
  ['bridge', 'bridge'],
  ['transmitterIdle', 'transmitter board'],
  ['transmitterCoil', 'transmitter coil'],
  ['receiverCoil', 'receiver coil'],
  ['rectifier', 'rectifier'],
  ['regulator', 'regulator'],
] as const;

function linkRows({ link }: PoseAnswer): string[][] {
  const errors = link.errors;
  return [
    [
      'coupling k',
      show(link.coupling, '1', errors.coupling),
      `${band(link.couplingBand, '1')} in air ${show(link.air.coupling, '1')}`.trim(),
    ],
    [
      'mutual inductance',
      show(link.mutualInductanceH, 'H', errors.mutualInductanceH),
      `in air ${show(link.air.mutualInductanceH, 'H')}`,
    ],
    [
      'transmitter coil',
      show(link.transmitterInductanceH, 'H', errors.transmitterInductanceH),
      `${show(link.transmitterResistanceOhm, 'ohm')}, Q ${show(link.transmitterQ, '1')}`,
    ],
    [
      'receiver coil',
      show(link.receiverInductanceH, 'H', errors.receiverInductanceH),
      `${show(link.receiverResistanceOhm, 'ohm')}, Q ${show(link.receiverQ, '1')}`,
    ],
    ['link efficiency limit', show(100 * link.linkEfficiencyLimit, '%'), `at ${show(link.atFrequencyHz, 'Hz')}`],
  ];
}

function pointRows({ operatingPoint: point }: PoseAnswer): string[][] {
  return [
    ['output', `${show(point.outputV, 'V')}, ${show(point.outputA, 'A')}`, `rectified ${show(point.rectifiedV, 'V')}`],
    [
      'supply',
      show(point.supplyA, 'A'),
      `efficiency ${show(100 * point.efficiency, '%')}, ${show(point.sagV, 'V')} lost in supply and cable`,
    ],
    ['drive', show(point.frequencyHz, 'Hz'), `duty ${show(point.duty, '1')}`],
    [
      'coil currents, rms',
      `${show(point.transmitterCoilARms, 'A')}, ${show(point.receiverCoilARms, 'A')}`,
      'transmitter, receiver',
    ],
    [
      'capacitors, peak',
      `${show(point.transmitterCapacitorVPeak, 'V')}, ${show(point.receiverCapacitorVPeak, 'V')}`,
      `transmitter, receiver${point.highVoltage ? '. Caution: above 50 V here or at a coil, do not touch' : ''}`,
    ],
    [
      'coils, peak, at most',
      `${show(point.transmitterCoilVPeak, 'V')}, ${show(point.receiverCoilVPeak, 'V')}`,
      'transmitter, receiver',
    ],
    [
      'temperatures',
      [point.transmitterC, point.receiverC, point.cellC, point.caseC].map((value) => show(value, 'degC')).join(', '),
      'transmitter, receiver, cell, case',
    ],
    ...LOSSES.map(([key, label]) => [`loss, ${label}`, show(point.losses[key], 'W')]),
  ];
}

function marginRows({ margin }: PoseAnswer): string[][] {
  return [
    ['asked for', show(margin.demandA, 'A'), margin.demandNames.join(' and ')],
    [
      'most it gives',
      show(margin.maxOutputA, 'A'),
      `${band(margin.maxOutputBand, 'A')} limited by ${limitWords(margin.limitedBy)}`.trim(),
    ],
    ['supply there', show(margin.supply.drawnA, 'A'), margin.supply.sentence],
    ['margin', show(margin.marginPercent, '%'), band(margin.marginBandPercent, '%')],
    ...margin.peaks.map((peak) => [`margin, ${peak.name}`, show(peak.marginPercent, '%'), show(peak.demandA, 'A')]),
  ];
}

/** The field around the link as text. */
function exposureText(report: ExposureReport): string {
  const { distanceM, levels, between, field } = report;
  const rows = [
    [
      'largest flux density, rms',
      fluxWords(report, ' '),
      `at ${show(1e3 * distanceM, 'mm')} from coils and plates, ${field}; ${harmonicWords(report)}`,
    ],
    ...levels.map((level) => [
      levelName(level),
      `${show(level.rmsT, 'T')}, ${level.averaging}`,
      `${formatQuantity(100 * level.share.value, '%', { space: ' ', digits: 2 })} of it there; met from ${metDistanceWords(level, ' ')}`,
    ]),
    ...between.objects.map(({ words, powerW }) => [
      `heat in ${words}`,
      roughWatts(powerW, ' '),
      `half-way between the coils, ${show(between.peakT, 'T')} peak; an order of magnitude`,
    ]),
  ];
  return `Field around the link\n${table(rows)}\n  ${EXPOSURE_PROVISO}`;
}

/** The answer as text for a terminal. @param exposure null where no current flows */
export function poseText(answer: PoseAnswer, design: Design, exposure: ExposureReport | null = null): string {
  const point = answer.operatingPoint;
  const parts = [
    design.title,
    `Link\n${table(linkRows(answer))}`,
    `Operating point: ${point.state}. ${point.sentence}\n${table(pointRows(answer))}\n  ${
      point.wakes ? 'It wakes' : 'It does not wake'
    } at ping: ${show(point.wakeRectifiedV, 'V')} rectified. Solved by ${point.methodWords}.`,
    `Margin\n${table(marginRows(answer))}`,
  ];
  const moves = answer.sensitivity.slice(0, 5).filter((entry) => Math.abs(entry.changePercent) >= 0.5);
  if (moves.length > 0) {
    parts.push(
      `What moves it most\n${table(
        moves.map((entry) => [entry.name, entry.tolerance, `${show(entry.changePercent, '%')} of the current`]),
      )}`,
    );
  }
  if (exposure) parts.push(exposureText(exposure));
  if (answer.notes.length > 0) parts.push(`Also\n${answer.notes.map((line) => `  ${line}`).join('\n')}`);
  if (answer.cautions.length > 0) parts.push(`Caution\n${answer.cautions.map((line) => `  ${line}`).join('\n')}`);
  return `${parts.join('\n\n')}\n`;
}

/** What `solve --json` prints. */
export function solveDocument(
  answer: PoseAnswer,
  defaultsTaken: readonly string[],
  exposure: ExposureReport | null = null,
): unknown {
  return { ...answer, exposure, defaultsTaken };
}

/** Solves the design at its placement. */
export const solve: Command = async (given, terminal) => {
  const result = await readDesign(given);
  if (!result.ok) return tellFaults(result.faults, given, terminal);
  const directory = outDirectory(given);
  const engine = createLocalEngine();
  const outcome = await engine.solve(result.design);
  const field = outcome.ok ? await engine.exposure(result.design, outcome.value.operatingPoint) : outcome;
  engine.dispose();
  if (!outcome.ok) return tellFailure(outcome, given, terminal);
  if (!field.ok) return tellFailure(field, given, terminal);
  const document = `${jsonText(solveDocument(outcome.value, result.defaultsTaken, field.value))}\n`;
  if (directory !== undefined) terminal.err(`Wrote ${writeTexts(directory, { 'solve.json': document }).join(', ')}\n`);
  terminal.out(given.values.has('json') ? document : poseText(outcome.value, result.design, field.value));
  return EXIT.done;
};
