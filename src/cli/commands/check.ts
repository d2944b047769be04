import { demandOf } from '../../design/demand.ts';
import { defaultText } from '../../design/describe.ts';
import { fieldAt, guessAt } from '../../design/guess.ts';
import { parsePath, valueAt } from '../../design/path.ts';
import { noteOf, slotOf } from '../../design/schema-node.ts';
import type { Design } from '../../design/types.ts';
import { linkSidesOf } from '../../design/wind.ts';
import { ringsWarning } from '../../physics/coil/rings-warning.ts';
import { formatGiven, formatQuantity } from '../../units/format.ts';
import { UNITS } from '../../units/unit-table.ts';
import type { Command } from '../command.ts';
import { readDesign, tellFaults } from '../read-design.ts';
import { table } from '../table.ts';
import { EXIT, jsonText } from '../terminal.ts';

interface TakenDefault {
  readonly path: string;
  readonly value: unknown;
  readonly unit: string;
  readonly label: string;
  /** How far it may be off, in words; empty where nothing is assumed by it. */
  readonly mayBeOff: string;
}

function takenDefault(path: string, design: Design): TakenDefault {
  const parsed = parsePath(path);
  const field = parsed.ok ? fieldAt(parsed.segments) : null;
  const note = field === null ? { label: '' } : noteOf(slotOf(field).node);
  const guess = guessAt(path);
  const unit = note.unit === undefined ? '' : UNITS[note.unit].symbol;
  const mayBeOff =
    guess === null
      ? ''
      : 'relative' in guess
        ? `± ${Math.round(guess.relative * 100)} %`
        : guess.absolute > 0
          ? `± ${guess.absolute} ${unit}`.trimEnd()
          : '';
  return { path, value: parsed.ok ? valueAt(design, parsed.segments) : undefined, unit, label: note.label, mayBeOff };
}

function shown(taken: TakenDefault): string {
  const parsed = parsePath(taken.path);
  const field = parsed.ok ? fieldAt(parsed.segments) : null;
  const unit = field === null ? undefined : noteOf(slotOf(field).node).unit;
  if (typeof taken.value === 'number' && unit !== undefined) return formatGiven(taken.value, unit, ' ');
  return field === null ? '' : (defaultText(field) ?? '');
}

/** Something is assumed by a default only where it stands for a value; "none" and empty lists assume nothing. */
function assumes(taken: TakenDefault): boolean {
  return typeof taken.value === 'number' || (typeof taken.value === 'string' && taken.value !== '');
}

/** Reads a design and reports faults, or a summary and the defaults it takes. */
export const check: Command = async (given, terminal) => {
  const result = await readDesign(given);
  if (!result.ok) return tellFaults(result.faults, given, terminal);
  const { design } = result;
  const demand = demandOf(design);
  const defaults = result.defaultsTaken.map((path) => takenDefault(path, design));
  const { transmitter, receiver } = linkSidesOf(design);
  const warnings = [transmitter, receiver].flatMap(({ winding }, side) => {
    const warning = ringsWarning(winding);
    return warning === null ? [] : [`${side === 0 ? 'transmitter' : 'receiver'}.coil: ${warning}`];
  });
  if (given.values.has('json')) {
    terminal.out(
      `${jsonText({ ok: true, title: design.title, gapMm: design.placement.gapMm, demand, warnings, defaultsTaken: defaults })}\n`,
    );
    return EXIT.done;
  }
  const assumed = defaults.filter((taken) => taken.mayBeOff !== '');
  const usual = defaults.filter((taken) => taken.mayBeOff === '' && assumes(taken));
  const layers = design.stack.length === 0 ? '' : ` (${design.stack.length} layers)`;
  terminal.out(
    `${design.title}: the design is sound.\n${table([
      ['gap', `${formatGiven(design.placement.gapMm, 'mm', ' ')}${layers}`],
      ['demand', `${formatQuantity(demand.demandA, 'A', { space: ' ' })}: ${demand.demandNames.join(' and ')}`],
      ...demand.peaks.map((peak) => ['peak', `${formatQuantity(peak.currentA, 'A', { space: ' ' })}: ${peak.name}`]),
    ])}\n`,
  );
  for (const warning of warnings) terminal.out(`Beware: ${warning}\n`);
  const unknown = [
    ...design.transmitter.drive.unknown.map((what) => `transmitter ${what}`),
    ...design.receiver.pickup.unknown.map((what) => `receiver ${what}`),
  ];
  if (unknown.length > 0)
    terminal.out(
      `Said to be unknown, so that the bands are wide: ${unknown.join(', ')}. The command bounds gives the interval over plausible boards.\n`,
    );
  if (assumed.length + usual.length === 0) terminal.out('Every value was given; no default was taken.\n');
  if (assumed.length > 0) {
    terminal.out(
      `Assumed, because the design does not say, and how far each may be off:\n${table(
        assumed.map((taken) => [taken.path, shown(taken), taken.mayBeOff]),
      )}\n`,
    );
  }
  if (usual.length > 0) {
    terminal.out(`Left at the usual value:\n${table(usual.map((taken) => [taken.path, shown(taken)]))}\n`);
  }
  return EXIT.done;
};
