import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parsePath } from '../../src/design/path.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { faultLine } from '../../src/numerics/errors.ts';

export type Change = readonly [path: string, value: unknown];

/** The demo with values replaced, keys added (also unknown ones) or, with undefined, removed. */
export function changed(...changes: readonly Change[]): unknown {
  const document = JSON.parse(JSON.stringify(DEMO_DESIGN));
  for (const [path, value] of changes) {
    const parsed = parsePath(path);
    if (!parsed.ok) throw new Error(path);
    const parent = parsed.segments.slice(0, -1).reduce((node, key) => node[key], document);
    const key = parsed.segments[parsed.segments.length - 1];
    if (value === undefined) delete parent[key];
    else parent[key] = value;
  }
  return document;
}

/** The faults of a document, one line each. */
export function lines(document: unknown): string[] {
  const result = parseDesign(document);
  return result.ok ? [] : result.faults.map(faultLine);
}
