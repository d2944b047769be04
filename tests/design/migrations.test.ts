import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { MIGRATIONS, type Migration, migrate } from '../../src/design/migrations.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { DESIGN_VERSION } from '../../src/design/schema.ts';

const fixture = JSON.parse(readFileSync(new URL('fixtures/version-0.json', import.meta.url), 'utf8'));

/** A made-up step: version 0 never existed, it stands for the first change of format to come. */
const fromZero: Migration = {
  from: 0,
  change: (document) => {
    const { distanceCm, ...placement } = document.placement as { distanceCm: number };
    return { ...document, placement: { ...placement, gapMm: 10 * distanceCm } };
  },
};

test('an old document is brought up to date and its owner sees the current form', () => {
  const before = JSON.stringify(fixture);
  const result = parseDesign(fixture, { migrations: [fromZero] });
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  expect(result.design.placement.gapMm).toBe(5);
  expect(result.document.version).toBe(1);
  expect(result.document.placement).toEqual({ gapMm: 5 });
  expect(JSON.stringify(fixture)).toBe(before);
});

test('without a step for it an old version is refused by its number', () => {
  const result = parseDesign(fixture);
  expect(result.ok).toBe(false);
  if (!result.ok) expect(result.faults[0]).toMatchObject({ path: 'version', required: '1', received: '0' });
});

test('steps run in order, one version at a time', () => {
  const steps: Migration[] = [0, 1, 2].map((from) => ({
    from,
    change: (document) => ({ ...document, seen: [...((document.seen as number[]) ?? []), from] }),
  }));
  expect(migrate({ version: 1 }, steps)).toEqual({ version: 3, seen: [1, 2] });
  expect(migrate({ version: 3 }, steps)).toEqual({ version: 3 });
  expect(migrate({}, steps)).toEqual({});
  expect(migrate([1], steps)).toEqual([1]);
});

test('the steps lead up to the current version without a hole', () => {
  expect(MIGRATIONS.map((step) => step.from)).toEqual(
    Array.from({ length: MIGRATIONS.length }, (_, i) => DESIGN_VERSION - MIGRATIONS.length + i),
  );
  expect(migrate(DEMO_DESIGN)).toBe(DEMO_DESIGN);
});
