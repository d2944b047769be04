import { readJsonText } from '../../design/json-text.ts';
import { ConvergenceError, InputError } from '../../numerics/errors.ts';
import { type BareReadings, readBareCircuit, solveBareCircuit } from '../../physics/circuit/bare-circuit.ts';
import { formatQuantity } from '../../units/format.ts';
import type { Command } from '../command.ts';
import { tellNotConverged } from '../engine.ts';
import { readText } from '../files.ts';
import { tellFaults } from '../read-design.ts';
import { table } from '../table.ts';
import { EXIT, jsonText } from '../terminal.ts';

const ROWS = [
  ['Vr', 'rectified voltage', 'V'],
  ['Iin', 'supply current', 'A'],
  ['I1rms', 'transmitter coil, rms', 'A'],
  ['I2rms', 'receiver coil, rms', 'A'],
  ['VC1pk', 'transmitter capacitor, peak', 'V'],
  ['VCspk', 'receiver capacitor, peak', 'V'],
] as const;

/** Solves the bare switched circuit of a file by all methods. */
export const circuit: Command = async (given, terminal) => {
  const json = readJsonText(readText(given.files[0]));
  if (!json.ok) return tellFaults(json.faults, given, terminal);
  try {
    const solution = solveBareCircuit(readBareCircuit(json.value));
    if (given.values.has('json')) {
      terminal.out(`${jsonText(solution)}\n`);
      return EXIT.done;
    }
    const cell = (readings: BareReadings | null, key: keyof BareReadings, unit: 'V' | 'A') =>
      readings === null ? '–' : formatQuantity(readings[key], unit, { digits: 4, space: ' ' });
    terminal.out(
      `${table(
        [
          ['', 'first harmonic', 'multi-harmonic', 'periodic'],
          ...ROWS.map(([key, label, unit]) => [
            label,
            cell(solution.firstHarmonic, key, unit),
            cell(solution.multiHarmonic, key, unit),
            cell(solution.periodic, key, unit),
          ]),
        ],
        true,
      )}\nReported by this program: ${solution.chosen}.\n`,
    );
    return EXIT.done;
  } catch (error) {
    if (error instanceof InputError) return tellFaults(error.faults, given, terminal);
    if (!(error instanceof ConvergenceError)) throw error;
    return tellNotConverged(error.message, given, terminal);
  }
};
