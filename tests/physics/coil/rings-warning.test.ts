import { expect, test } from 'vitest';
import { ringsWarning } from '../../../src/physics/coil/rings-warning.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { circle, RECEIVER, TRANSMITTER, trace } from './coils.ts';

test('warns of rings wound nearly to the centre, with numbers; not of open coils, spirals or single turns', () => {
  const spec = {
    ...TRANSMITTER,
    outline: { shape: 'circle', outerDiameter: 40.4e-3, innerDiameter: 1.6e-3 },
    turns: 11,
    conductor: trace(0.97368e-3),
  } as const;
  expect(ringsWarning(windCoil(spec))).toContain('within 1.287 mm of the axis, turns are 1.843 mm apart');
  expect(ringsWarning(windCoil({ ...spec, winding: 'spiral' }))).toBeNull();
  expect(ringsWarning(windCoil(TRANSMITTER))).toBeNull();
  expect(ringsWarning(windCoil(RECEIVER))).toBeNull();
  expect(ringsWarning(circle(1e-3))).toBeNull();
});
