import { expect, test } from 'vitest';
import { MUTUAL, numberAt, sensitivityInputs } from '../../../src/analysis/sensitivity/sensitivity-inputs.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';

const parsed = parseDesign(DEMO_DESIGN);
if (!parsed.ok) throw new Error('the demo must resolve');
const { design } = parsed;

test('every input once, those of the issue among them, values of zero left out', () => {
  const inputs = sensitivityInputs(design);
  const paths = inputs.map(({ path }) => path);
  expect(new Set(paths).size).toBe(paths.length);
  for (const path of [
    'placement.gapMm',
    'transmitter.drive.supplyV',
    'transmitter.drive.seriesCapacitanceNf',
    'receiver.pickup.seriesCapacitanceNf',
    'transmitter.coil.inductanceUh',
    'receiver.coil.inductanceUh',
    'transmitter.ferrite.relativePermeability',
    'receiver.ferrite.standoffMm',
    'receiver.pickup.regulator.dropoutV',
    MUTUAL,
  ])
    expect(paths).toContain(path);
  const stiff = structuredClone(design);
  stiff.transmitter.drive.supplyResistanceOhm = 0;
  expect(sensitivityInputs(stiff).map(({ path }) => path)).not.toContain('transmitter.drive.supplyResistanceOhm');
});

test('numbers are read by their path', () => {
  expect(numberAt(design, 'transmitter.drive.supplyV')).toBe(5);
  expect(numberAt(design, 'nowhere.at.all')).toBeNaN();
  expect(numberAt(design, MUTUAL)).toBeNaN();
});
