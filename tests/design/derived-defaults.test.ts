import { expect, test } from 'vitest';
import type { DesignDocument } from '../../src/design/schema.ts';
import type { Design } from '../../src/design/types.ts';
import { LEAST, resolved, wire } from './least.ts';

test('those that depend on other keys', () => {
  const { design } = resolved(LEAST);
  expect(design.transmitter.coil.conductor).toEqual({ ...wire, insulatedDiameterMm: 0.55 });
  expect(design.transmitter.coil.layerPitchMm).toBe(0.55);
  expect(design.transmitter.drive.dutyMin).toBe(1);
  expect(design.transmitter.drive.pingKhz).toBe(175);
  expect(design.receiver.pickup.target).toEqual({ lowV: 5.3, highV: 7, decayA: 0.08 });
  expect(design.receiver.pickup.regulator.overvoltageV).toBe(15);
  expect(design.demand.loads[0]).toMatchObject({
    kind: 'typical',
    atV: 5,
    durationMs: 0,
    through: [],
    alongside: [],
  });
});

test.each<[string, (d: DesignDocument) => void, (d: Design) => unknown, unknown]>([
  [
    'half bridge',
    (d) => Object.assign(d.transmitter.drive, { bridge: 'half' }),
    (d) => d.transmitter.drive.dutyMin,
    0.5,
  ],
  [
    'ping inside a low window',
    (d) => Object.assign(d.transmitter.drive, { frequencyMinKhz: 20, frequencyMaxKhz: 50 }),
    (d) => d.transmitter.drive.pingKhz,
    50,
  ],
  [
    'diode drop',
    (d) => Object.assign(d.receiver.pickup, { rectifier: { kind: 'diode' } }),
    (d) => d.receiver.pickup.rectifier.dropV,
    0.35,
  ],
  [
    'overvoltage of a high output',
    (d) => Object.assign(d.receiver.pickup.regulator, { outputV: 20 }),
    (d) => d.receiver.pickup.regulator.overvoltageV,
    30,
  ],
  [
    'trace layers',
    (d) => Object.assign(d.receiver.coil, { conductor: { kind: 'trace', widthMm: 0.5, thicknessMm: 0.035 } }),
    (d) => d.receiver.coil.layerPitchMm,
    0.235,
  ],
  [
    'a peak lasts',
    (d) => d.demand.loads.push({ name: 'start', kind: 'peak', currentA: 1 }),
    (d) => d.demand.loads[1].durationMs,
    1,
  ],
  [
    "a reading's place",
    (d) => Object.assign(d, { readings: [{ supplyV: 5 }], placement: { gapMm: 4, offsetXMm: 3 } }),
    (d) => [d.readings[0].gapMm, d.readings[0].offsetXMm, d.readings[0].offsetYMm, d.readings[0].frequencyKhz],
    [4, 3, 0, null],
  ],
  [
    "the magnets' gap",
    (d) => Object.assign(d, { holding: { magnets: { positionsMm: [[20, 0]], diameterMm: 6, thicknessMm: 2 } } }),
    (d) => d.holding.magnets?.gapMm,
    4,
  ],
  [
    'end of charge',
    (d) => Object.assign(d.demand.loads[0], { through: [{ kind: 'cell', capacityAh: 2 }] }),
    (d) => (d.demand.loads[0].through[0].kind === 'cell' ? d.demand.loads[0].through[0].cutoffA : 0),
    0.1,
  ],
])('%s', (_, change, read, wanted) => {
  const document = JSON.parse(JSON.stringify(LEAST)) as DesignDocument;
  change(document);
  expect(read(resolved(document).design)).toEqual(wanted);
});

test('a tolerance is wider where its value is a guess', () => {
  const outline = { shape: 'circle', outerDiameterMm: 44 };
  const bare = resolved({ ...LEAST, receiver: { ...LEAST.receiver, ferrite: { outline, thicknessMm: 1 } } }).design;
  expect(bare.receiver.ferrite).toMatchObject({ standoffToleranceMm: 0.2, relativePermeabilityTolerancePercent: 60 });
  expect(bare.transmitter.drive.frequencyTolerancePercent).toBe(5);
  const drive = { ...LEAST.transmitter.drive, frequencyMinKhz: 100, frequencyMaxKhz: 200 };
  const ferrite = { outline, thicknessMm: 1, standoffMm: 0.3, relativePermeability: 900 };
  const given = resolved({
    ...LEAST,
    transmitter: { ...LEAST.transmitter, drive },
    receiver: { ...LEAST.receiver, ferrite },
  }).design;
  expect(given.receiver.ferrite).toMatchObject({ standoffToleranceMm: 0.1, relativePermeabilityTolerancePercent: 20 });
  expect(given.transmitter.drive.frequencyTolerancePercent).toBe(1);
});
