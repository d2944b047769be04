import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { guessAt, guessedValues } from '../../src/design/guess.ts';
import { documentOf, parseDesign } from '../../src/design/resolve.ts';
import type { DesignDocument } from '../../src/design/schema.ts';
import { STARTING_POINTS } from '../../src/design/starting-points.ts';
import type { Design } from '../../src/design/types.ts';
import { windingFaults } from '../../src/design/wind.ts';
import { faultLine } from '../../src/numerics/errors.ts';

function resolved(document: unknown): { design: Design; defaultsTaken: string[] } {
  const result = parseDesign(document);
  if (!result.ok) throw new Error(result.faults.map(faultLine).join('\n'));
  return result;
}

const wire = { kind: 'solid', diameterMm: 0.5 } as const;
const coil = {
  outline: { shape: 'circle', outerDiameterMm: 40, innerDiameterMm: 20 },
  turns: 10,
  conductor: wire,
} as const;

/** Nothing but what is required. */
const LEAST: DesignDocument = {
  format: 'offcentre-design',
  version: 1,
  transmitter: { coil, drive: { supplyV: 5, seriesCapacitanceNf: 400 } },
  receiver: { coil, pickup: { seriesCapacitanceNf: 110, regulator: { outputV: 5 } } },
  placement: { gapMm: 4 },
  demand: { loads: [{ name: 'lamp', currentA: 0.2 }] },
};

describe('round trip', () => {
  test.each([{ id: 'demo', document: DEMO_DESIGN }, { id: 'least', document: LEAST }, ...STARTING_POINTS])(
    '$id: written out in full it gives the same design and takes no default',
    ({ document }) => {
      const first = resolved(document);
      const again = resolved(JSON.parse(JSON.stringify(documentOf(first.design))));
      expect(again.defaultsTaken).toEqual([]);
      const { assumed: _taken, ...design } = first.design;
      expect(again.design).toEqual({ ...design, assumed: [] });
    },
  );

  test('the document comes back as given, without defaults, and is not touched', () => {
    const before = JSON.stringify(LEAST);
    const result = parseDesign(LEAST);
    expect(result.ok && JSON.stringify(result.document)).toBe(before);
    expect(JSON.stringify(LEAST)).toBe(before);
  });
});

describe('defaults', () => {
  test('every path that took a default is listed once and has a value in the design', () => {
    const { design, defaultsTaken } = resolved(LEAST);
    expect(new Set(defaultsTaken).size).toBe(defaultsTaken.length);
    expect(design.assumed).toEqual(defaultsTaken);
    expect(defaultsTaken).toContain('transmitter.coil.layerPitchMm');
    expect(defaultsTaken).toContain('transmitter.coil.conductor.insulatedDiameterMm');
    expect(defaultsTaken).toContain('receiver.pickup.rectifier.dropV');
    expect(defaultsTaken).toContain('demand.loads[0].atV');
    expect(defaultsTaken).not.toContain('placement.gapMm');
  });

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

  test('a guess has a width; a given value has none', () => {
    const { design } = resolved(LEAST);
    const guessed = new Map(guessedValues(design).map((entry) => [entry.path, entry]));
    expect(guessed.get('receiver.pickup.wakeV')).toMatchObject({ value: 4, halfWidth: 1 });
    expect(guessed.get('transmitter.drive.switchResistanceOhm')?.halfWidth).toBeCloseTo(0.03, 12);
    expect(guessed.has('transmitter.drive.supplyV')).toBe(false);
    expect(guessed.has('placement.offsetXMm')).toBe(false);
    expect(guessAt('no.such.key')).toBeNull();
    expect(guessAt('receiver.ferrite.relativePermeability')).toEqual({ relative: 0.6 });
  });
});

describe('coils that cannot be wound', () => {
  test('are told by the document paths', () => {
    const document = JSON.parse(JSON.stringify(LEAST));
    document.transmitter.coil.turns = 40;
    document.receiver.coil = {
      ...document.receiver.coil,
      outline: {
        shape: 'path',
        pointsMm: [
          [0, 0],
          [20, 20],
          [20, 0],
          [0, 20],
        ],
        pitchMm: 1,
      },
    };
    const paths = windingFaults(resolved(document).design).map((fault) => fault.path);
    expect(paths[0]).toMatch(/^transmitter\.coil\./);
    expect(paths[1]).toBe('receiver.coil.outline.pointsMm');
  });
});

/** Any JSON value, with the shapes and words of designs among the leaves. */
const anything = fc.letrec((tie) => ({
  value: fc.oneof(
    { maxDepth: 3 },
    fc.constantFrom(null, true, 0, -1, 1.5, 1e308, '', 'circle', 'litz', 'null', '=1+1', '<b>', '\u202e', [], {}),
    fc.double(),
    fc.string(),
    fc.array(tie('value'), { maxLength: 3 }),
    fc.dictionary(
      fc.oneof(fc.string(), fc.constantFrom('shape', 'kind', 'turns', '__proto__', 'toString')),
      tie('value'),
      {
        maxKeys: 3,
      },
    ),
  ),
})).value;

/** Every path of a JSON value, inner nodes as well. */
function pathsOf(node: unknown, at: (string | number)[] = []): (string | number)[][] {
  if (typeof node !== 'object' || node === null) return [at];
  return [
    at,
    ...Object.entries(node).flatMap(([key, child]) => pathsOf(child, [...at, Array.isArray(node) ? Number(key) : key])),
  ];
}

describe('no JSON value makes it throw', () => {
  test('anything at all (seed 51)', () => {
    fc.assert(
      fc.property(anything, (value) => {
        const result = parseDesign(value);
        if (!result.ok) expect(result.faults.length).toBeGreaterThan(0);
      }),
      { seed: 51, numRuns: 500 },
    );
  }, 30_000);

  test('the demo with random parts replaced, removed or added (seed 52)', () => {
    const full = documentOf(resolved(DEMO_DESIGN).design);
    const places = pathsOf(full).filter((path) => path.length > 0);
    const edit = fc.record({
      place: fc.constantFrom(...places),
      how: fc.constantFrom('replace', 'remove', 'add', 'scale'),
      value: anything,
      factor: fc.double({ min: -3, max: 100, noNaN: true }),
    });
    let sound = 0;
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 3 }), (edits) => {
        const document = JSON.parse(JSON.stringify(full));
        for (const { place, how, value, factor } of edits) {
          const parent = place.slice(0, -1).reduce((node, key) => node?.[key], document);
          const key = place[place.length - 1];
          if (typeof parent !== 'object' || parent === null) continue;
          if (how === 'remove') delete parent[key];
          else if (how === 'add') parent[`${key}X`] = value;
          else if (how === 'scale' && typeof parent[key] === 'number') parent[key] *= factor;
          else parent[key] = value;
        }
        const result = parseDesign(document);
        if (result.ok) {
          sound++;
          expect(windingFaults(result.design).every((fault) => /^(transmitter|receiver)\.coil/.test(fault.path))).toBe(
            true,
          );
          return;
        }
        expect(result.faults.length).toBeGreaterThan(0);
        expect(new Set(result.faults.map((fault) => `${fault.path} ${fault.required}`)).size).toBe(
          result.faults.length,
        );
        for (const fault of result.faults) {
          expect(faultLine(fault)).not.toMatch(/undefined|\[object|[\r\n]/);
          expect(fault.path.length).toBeLessThan(400);
        }
      }),
      { seed: 52, numRuns: 600 },
    );
    // Some mutants stay sound, or the test would only ever see refusals.
    expect(sound).toBeGreaterThan(20);
  }, 60_000);
});
