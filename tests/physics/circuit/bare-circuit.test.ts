import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { InputError } from '../../../src/numerics/errors.ts';
import { type BareReadings, readBareCircuit, solveBareCircuit } from '../../../src/physics/circuit/bare-circuit.ts';
import { TYPICAL_CIRCUIT } from './typical-circuit.ts';

interface Row {
  readonly id: string;
  readonly inputs: Record<string, unknown>;
  readonly expected: BareReadings;
  readonly firstHarmonic?: Record<string, number>;
  readonly multiHarmonic?: Record<string, number>;
}
interface CaseSet {
  readonly id: string;
  readonly regions: readonly {
    name: string;
    tolerance: { rel: number; peakRel: number; why: string };
    rows: readonly Row[];
  }[];
}
const sets = JSON.parse(
  readFileSync(new URL('../../../reference-cases/circuit-periodic/cases.json', import.meta.url), 'utf8'),
) as CaseSet[];

const typical = TYPICAL_CIRCUIT;

describe('reference: periodic steady state of the switched circuit (independent time-domain solutions)', () => {
  for (const set of sets) {
    for (const region of set.regions) {
      test.each(region.rows.map((row) => [row.id, row] as const))(`${set.id}, ${region.name}: %s`, (_id, row) => {
        const solution = solveBareCircuit(readBareCircuit(row.inputs));
        const got = solution[solution.chosen];
        expect(got).not.toBeNull();
        for (const key of ['Vr', 'Iin', 'I1rms', 'I2rms'] as const) {
          expect(Math.abs(got![key] / row.expected[key] - 1), `${key} ${got![key]}`).toBeLessThan(region.tolerance.rel);
        }
        for (const key of ['VC1pk', 'VCspk'] as const) {
          expect(Math.abs(got![key] / row.expected[key] - 1), `${key} ${got![key]}`).toBeLessThan(
            region.tolerance.peakRel,
          );
        }
      });
    }
  }

  test('first harmonic equals the independently computed phasor solution where the set gives one', () => {
    let compared = 0;
    for (const row of sets.flatMap((set) => set.regions.flatMap((region) => region.rows))) {
      if (row.firstHarmonic === undefined) continue;
      const { firstHarmonic } = solveBareCircuit(readBareCircuit(row.inputs));
      for (const key of ['Vr', 'Iin', 'I1rms', 'I2rms'] as const) {
        expect(Math.abs(firstHarmonic[key] / row.firstHarmonic[key] - 1)).toBeLessThan(1e-8);
      }
      compared++;
    }
    expect(compared).toBe(12);
  });
});

describe('the file of a bare circuit', () => {
  const faultsOf = (input: unknown) => {
    try {
      readBareCircuit(input);
    } catch (error) {
      if (error instanceof InputError) return error.faults;
      throw error;
    }
    return [];
  };
  test('reads a good one, with and without parallel capacitor', () => {
    expect(readBareCircuit(typical)).toEqual(typical);
    const { Cd, ...without } = typical;
    expect(Cd).toBeGreaterThan(0);
    expect(readBareCircuit(without).Cd).toBe(0);
    expect(readBareCircuit({ ...typical, Cd: null }).Cd).toBe(0);
  });
  test('names every fault with its key, requirement and what came', () => {
    const faults = faultsOf({ ...typical, k: 1.2, L1: -1, duty: 'x', extra: 1, bridge: 'both', Vin: undefined });
    expect(faults.map((fault) => fault.path).sort()).toEqual(['L1', 'Vin', 'bridge', 'duty', 'extra', 'k']);
    expect(faults.find((fault) => fault.path === 'L1')?.received).toBe('-1 H');
    expect(faults.find((fault) => fault.path === 'extra')?.code).toBe('unknown-key');
    expect(faults.find((fault) => fault.path === 'Vin')?.code).toBe('missing-key');
  });
  test('a half bridge has no duty above 0.5, nothing is an object but an object', () => {
    expect(faultsOf({ ...typical, bridge: 'half', duty: 0.6 })[0].path).toBe('duty');
    for (const bad of [null, 3, [], 'x']) expect(faultsOf(bad)[0].code).toBe('not-an-object');
    expect(faultsOf({ ...typical, f: Number.NaN })[0].path).toBe('f');
  });
});

describe('limits and symmetries', () => {
  test('a load beyond what a short circuit draws is refused with that current', () => {
    expect(() => solveBareCircuit({ ...(typical as ReturnType<typeof readBareCircuit>), Idc: 8 })).toThrow(
      /Idc: must be at most 5\.\d+ A/,
    );
    expect(() => solveBareCircuit({ ...(typical as ReturnType<typeof readBareCircuit>), k: 0 })).toThrow(InputError);
  });
  test('a half bridge at full duty equals a full bridge of half the voltage with half the switch resistance, but for the blocking voltage', () => {
    const full = solveBareCircuit(readBareCircuit({ ...typical, Vin: 6 })).periodic;
    const half = solveBareCircuit(
      readBareCircuit({ ...typical, bridge: 'half', Vin: 12, duty: 0.5, Ron: 0.04 }),
    ).periodic;
    expect(Math.abs(half.Vr / full.Vr - 1)).toBeLessThan(1e-9);
    expect(Math.abs(half.I1rms / full.I1rms - 1)).toBeLessThan(1e-9);
    expect(Math.abs(half.Iin / (full.Iin / 2) - 1)).toBeLessThan(1e-9);
    expect(Math.abs(half.VC1pk - (full.VC1pk + 6))).toBeLessThan(1e-6);
  });
  test('impedance scaling: all impedances times s at fixed voltages divides every current by s', () => {
    const s = 3.7;
    const base = solveBareCircuit(readBareCircuit(typical)).periodic;
    const scaled = solveBareCircuit(
      readBareCircuit({
        ...typical,
        L1: typical.L1 * s,
        L2: typical.L2 * s,
        C1: typical.C1 / s,
        Cs: typical.Cs / s,
        Cd: typical.Cd / s,
        Crect: typical.Crect / s,
        R1: typical.R1 * s,
        Ron: typical.Ron * s,
        RC1: typical.RC1 * s,
        R2: typical.R2 * s,
        RCs: typical.RCs * s,
        Rd: typical.Rd * s,
        Idc: typical.Idc / s,
      }),
    ).periodic;
    expect(Math.abs(scaled.Vr / base.Vr - 1)).toBeLessThan(1e-8);
    expect(Math.abs((scaled.I1rms * s) / base.I1rms - 1)).toBeLessThan(1e-8);
    expect(Math.abs((scaled.I2rms * s) / base.I2rms - 1)).toBeLessThan(1e-8);
  });
  test('a vanishing parallel capacitor leads to none', () => {
    const none = solveBareCircuit(readBareCircuit({ ...typical, Cd: 0 })).periodic;
    const small = solveBareCircuit(readBareCircuit({ ...typical, Cd: 2e-11 })).periodic;
    const tiny = solveBareCircuit(readBareCircuit({ ...typical, Cd: 1e-15 })).periodic;
    expect(Math.abs(small.Vr / none.Vr - 1)).toBeLessThan(2e-3);
    expect(Math.abs(tiny.Vr / none.Vr - 1)).toBeLessThan(1e-12);
  });
  test('ideal rectifier devices (no resistance) are solved', () => {
    const ideal = solveBareCircuit(readBareCircuit({ ...typical, Rd: 0, Vd0: 0 })).periodic;
    const near = solveBareCircuit(readBareCircuit({ ...typical, Rd: 1e-3, Vd0: 0 })).periodic;
    expect(Math.abs(ideal.Vr / near.Vr - 1)).toBeLessThan(1e-3);
  });
});
