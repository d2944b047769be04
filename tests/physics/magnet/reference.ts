/** Rows of reference-cases/magnets as the tests use them. */
import { readFileSync } from 'node:fs';

export interface MagnetRow {
  readonly id: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly expected: Readonly<Record<string, string | number>>;
  readonly rel: number;
  readonly abs: number;
}

interface CaseSet {
  readonly id: string;
  readonly regions: readonly {
    readonly tolerance: { readonly rel: number; readonly abs: number };
    readonly rows: readonly { id: string; inputs: Record<string, number>; expected: Record<string, string | number> }[];
  }[];
}

/** All rows of one set, each with its region's tolerance. */
export function magnetRows(id: string): MagnetRow[] {
  const file = new URL('../../../reference-cases/magnets/cases.json', import.meta.url);
  const sets = JSON.parse(readFileSync(file, 'utf8')) as CaseSet[];
  const set = sets.find((s) => s.id === id);
  if (!set) throw new Error(`no reference set ${id}`);
  return set.regions.flatMap((region) => region.rows.map((row) => ({ ...row, ...region.tolerance })));
}
