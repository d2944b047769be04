import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { documentAsGiven, documentOf, parseDesign } from '../../src/design/resolve.ts';
import { STARTING_POINTS } from '../../src/design/starting-points.ts';
import { windingFaults } from '../../src/design/wind.ts';
import { faultLine } from '../../src/numerics/errors.ts';
import { lines } from './changed.ts';
import { LEAST, resolved } from './least.ts';

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

describe('as it was given', () => {
  const starts = [{ id: 'demo', document: DEMO_DESIGN }, { id: 'least', document: LEAST }, ...STARTING_POINTS];

  test.each(starts)(
    '$id: without its defaults it gives the same design, and its guesses stay guesses',
    ({ document }) => {
      const { design } = resolved(document);
      const again = resolved(JSON.parse(JSON.stringify(documentAsGiven(design))));
      expect(again.design).toEqual(design);
      expect(again.defaultsTaken.length).toBeGreaterThan(0);
    },
  );

  test.each(starts)('$id: what was changed at a default is written, all else stays a guess', ({ document }) => {
    const { design } = resolved(document);
    const coil = { ...design.receiver.coil, inductanceUh: 12.5, turns: design.receiver.coil.turns + 1 };
    const changed = { ...design, receiver: { ...design.receiver, coil }, stack: [], readings: [] };
    const again = resolved(JSON.parse(JSON.stringify(documentAsGiven(changed))));
    expect({ ...again.design, assumed: [] }).toEqual({ ...changed, assumed: [] });
    // The gap stood in the stack.
    const gone = new Set(['receiver.coil.inductanceUh', 'placement.gapMm', 'stack', 'readings']);
    const kept = (path: string) => !gone.has(path) && !/^(stack|readings)\[/.test(path);
    expect(again.defaultsTaken.filter(kept)).toEqual((design.assumed ?? []).filter(kept));
    expect(again.defaultsTaken).not.toContain('receiver.coil.inductanceUh');
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

describe('what is no design at all gets one line', () => {
  test.each<[unknown, string]>([
    [null, 'design: must be a JSON object with "format": "offcentre-design"; received null.'],
    [[], 'design: must be a JSON object with "format": "offcentre-design"; received a list of 0 entries.'],
    [
      { name: 'x', version: 7 },
      'format: must be "offcentre-design"; received nothing. This does not look like an Offcentre design.',
    ],
    [
      { ...DEMO_DESIGN, version: 2, novelty: true },
      'version: must be 1 or older; received 2. The file was made by a newer Offcentre: update this one to open it.',
    ],
    [
      { ...DEMO_DESIGN, format: 'offcenter-design' },
      'format: must be "offcentre-design"; received "offcenter-design".',
    ],
    [{ ...DEMO_DESIGN, version: '1' }, 'version: must be 1; received "1".'],
  ])('%#', (document, line) => {
    expect(lines(document)).toEqual([line]);
  });
});
