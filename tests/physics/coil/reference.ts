import { readFileSync } from 'node:fs';
import { expect } from 'vitest';

/** One row of a reference set. Inputs keep the names and units of the file. */
export interface ReferenceRow<Expected = number> {
  readonly id: string;
  readonly inputs: Readonly<Record<string, never>>;
  readonly expected: Expected;
}

export interface ReferenceRegion<Expected = number> {
  readonly name: string;
  readonly tolerance: { readonly rel: number; readonly abs: number; readonly why: string };
  readonly rows: readonly ReferenceRow<Expected>[];
}

interface ReferenceSet<Expected> {
  readonly id: string;
  readonly unit: string;
  readonly regions: readonly ReferenceRegion<Expected>[];
}

/** Regions of all sets of reference-cases/<quantity>/cases.json that contain a row of which `wanted` approves. */
export function referenceRegions<Expected = number>(
  quantity: string,
  wanted: (id: string) => boolean = () => true,
): ReferenceRegion<Expected>[] {
  const file = new URL(`../../../reference-cases/${quantity}/cases.json`, import.meta.url);
  const sets: ReferenceSet<Expected>[] = JSON.parse(readFileSync(file, 'utf8'));
  const regions = sets.flatMap((set) =>
    set.regions.map((region) => ({
      ...region,
      name: `${set.id}, ${region.name}`,
      rows: region.rows.filter((row) => wanted(row.id)),
    })),
  );
  const filled = regions.filter((region) => region.rows.length > 0);
  expect(filled.length, `rows wanted of ${quantity}`).toBeGreaterThan(0);
  return filled;
}

/** Compares all rows of a region and reports the worst ones together. */
export function expectRegion(region: ReferenceRegion, compute: (row: ReferenceRow) => number): void {
  const { rel, abs } = region.tolerance;
  const bad = region.rows
    .map((row) => ({ id: row.id, got: compute(row), wanted: row.expected }))
    .filter(({ got, wanted }) => !(Math.abs(got - wanted) <= rel * Math.abs(wanted) + abs))
    .map(({ id, got, wanted }) => `${id}: got ${got}, wanted ${wanted}, off by ${(got / wanted - 1).toExponential(2)}`);
  expect(bad, `${region.name} (rel ${rel}, abs ${abs})`).toEqual([]);
}
