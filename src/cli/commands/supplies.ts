import { limitName } from '../../analysis/margin/state-sentence.ts';
import type { SupplyChoice, SupplyOption } from '../../analysis/supply/supply-choice.ts';
import type { Uncertain } from '../../analysis/types.ts';
import type { Design } from '../../design/types.ts';
import { formatBand, formatInBand } from '../../units/format.ts';
import type { UnitName } from '../../units/unit-table.ts';
import type { Command } from '../command.ts';
import { showProgress, tellFailure } from '../engine.ts';
import { openEngine } from '../open-engine.ts';
import type { GivenOptions } from '../options.ts';
import { readDesign, tellFaults } from '../read-design.ts';
import { table } from '../table.ts';
import { EXIT, jsonText, UsageError } from '../terminal.ts';

const USUAL = '5,9,12';

function voltsOf(given: GivenOptions): number[] {
  const text = given.values.get('volts')?.[0] ?? USUAL;
  const volts = text.split(',').map((part) => (part.trim() === '' ? Number.NaN : Number(part.replace(/\s*V$/i, ''))));
  const good =
    new Set(volts).size === volts.length &&
    volts.length >= 2 &&
    volts.length <= 4 &&
    volts.every((value) => value >= 0.5 && value <= 60);
  if (!good)
    throw new UsageError(
      `Option --volts must be two to four different voltages from 0.5 to 60 V, such as ${USUAL}; received "${text.slice(0, 40)}".`,
    );
  return volts;
}

function banded(value: Uncertain, unit: UnitName): string {
  const number = formatInBand(value.value, value.low, value.high, unit, { space: ' ', digits: unit === 'A' ? 3 : 2 });
  if (!(value.high - value.low > 0.01 * Math.abs(value.value))) return number;
  return `${number} (${formatBand(value.low, value.high, unit, { space: ' ', fixedUnit: true })})`;
}

type Cell = (option: SupplyOption) => string;

const ROWS: readonly (readonly [string, Cell])[] = [
  ['most it gives', ({ report }) => banded(report.maxOutputA, 'A')],
  ['limited by', ({ report }) => limitName(report.limitedBy)],
  ['margin', ({ report }) => (report.marginPercent.value >= 999 ? '–' : banded(report.marginPercent, '%'))],
  [
    'efficiency as asked',
    ({ report: { atDemand } }) => {
      const { value, low, high } = atDemand.efficiency;
      return banded({ value: 100 * value, low: 100 * low, high: 100 * high }, '%');
    },
  ],
  ['receiver settles at', ({ report }) => banded(report.atDemand.receiverC, 'degC')],
  ['state as asked', ({ report }) => report.atDemand.state],
  ['state at light load', ({ report }) => report.atLightLoad.state],
  [
    'safe off centre',
    ({ reach }) =>
      reach === null
        ? '–'
        : reach.innerLimitMm > 0
          ? `only from ${reach.innerLimitMm.toFixed(1)} mm`
          : `${reach.offsetBeyond ? 'more than ' : ''}${banded(reach.offsetMm, 'mm')}`,
  ],
  [
    'holds apart',
    ({ reach }) => (reach === null ? '–' : `${reach.gap.beyond ? 'more than ' : ''}${banded(reach.gap.holdMm, 'mm')}`),
  ],
  ['wakes apart', ({ reach }) => (reach === null ? '–' : `${reach.gap.wakeMm.toFixed(1)} mm`)],
];

/** The choice as text for a terminal. */
export function suppliesText(choice: SupplyChoice, design: Design): string {
  const head = ['', ...choice.options.map(({ report }) => `${report.supplyV} V`)];
  const rows = ROWS.map(([name, cell]) => [name, ...choice.options.map(cell)]);
  const high = choice.options.filter(({ report }) => report.atDemand.highVoltage).map(({ report }) => report.supplyV);
  const caution =
    high.length > 0
      ? `Caution\n  At ${high.join(' and ')} V a series capacitor or coil carries more than 50 V peak: do not touch it in operation.\n`
      : '';
  return `${design.title}\n\n${choice.sentence}\n\n${table([head, ...rows], true)}\n\n${choice.others.map((line) => `  ${line}\n`).join('')}${caution}`;
}

/** Two to four supply voltages side by side. */
export const supplies: Command = async (given, terminal) => {
  const suppliesV = voltsOf(given);
  const result = await readDesign(given);
  if (!result.ok) return tellFaults(result.faults, given, terminal);
  const engine = openEngine();
  const outcome = await engine.supplies({ design: result.design, suppliesV }, undefined, showProgress());
  engine.dispose();
  if (!outcome.ok) return tellFailure(outcome, given, terminal);
  terminal.out(
    given.values.has('json')
      ? `${jsonText({ ...outcome.value, defaultsTaken: result.defaultsTaken })}\n`
      : suppliesText(outcome.value, result.design),
  );
  return EXIT.done;
};
