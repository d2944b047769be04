import { expect, test } from 'vitest';
import { coilSpecFaults, millimetres } from '../../../src/physics/coil/coil-spec-faults.ts';
import { RECEIVER, TRANSMITTER, trace } from './coils.ts';

test('good coils have no faults', () => {
  expect(coilSpecFaults(TRANSMITTER)).toEqual([]);
  expect(coilSpecFaults(RECEIVER)).toEqual([]);
  expect(coilSpecFaults({ ...TRANSMITTER, conductor: trace(1e-3) })).toEqual([]);
});

test('several faults come at once, each with its path', () => {
  const faults = coilSpecFaults({ ...RECEIVER, turns: 2.5, layers: 0, filars: -1, conductor: trace(-1e-3, 0) });
  expect(faults.map((fault) => fault.path)).toEqual(
    expect.arrayContaining(['turns', 'layers', 'filars', 'conductor.width', 'conductor.thickness']),
  );
});

test('lengths are printed in millimetres with four digits', () => {
  expect(millimetres(0.00123456)).toBe('1.235 mm');
  expect(millimetres(2e-2)).toBe('20 mm');
});
