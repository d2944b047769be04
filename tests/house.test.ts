import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

/**
 * How the house is kept: a file of the pure layers has a test of its own name in the mirrored folder, or a test there that
 * imports it, or stands below with the test through which it is tested. A physics file also has its place in its folder's
 * README, and that README its sources.
 */

const under = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts') && !entry.name.endsWith('.d.ts'))
    .map((entry) => join(entry.parentPath, entry.name))
    .toSorted();

const known = new Map<string, readonly string[]>();

/** What a file imports of this project, types left out: they are not run. */
function importedBy(file: string): readonly string[] {
  const found =
    known.get(file) ??
    [...readFileSync(file, 'utf8').matchAll(/(?<!import type [^;]*)(?:from|import\()\s*'(\.[^']+\.ts)'/g)].map(
      ([, path]) => relative('.', resolve(dirname(file), path)),
    );
  known.set(file, found);
  return found;
}

/** The tests that import a file themselves. */
const importers = new Map<string, string[]>();
for (const file of under('tests')) {
  for (const target of importedBy(file)) importers.set(target, [...(importers.get(target) ?? []), file]);
}

/** Types alone need no test. */
const works = (file: string): boolean =>
  /^export (async )?(function|const|class|let)\b/m.test(readFileSync(file, 'utf8'));

function isMirrored(file: string): boolean {
  const mirror = file.replace(/^src/, 'tests');
  if (['.test.ts', '.reference.test.ts'].some((end) => existsSync(mirror.replace(/\.ts$/, end)))) return true;
  return (importers.get(file) ?? []).some((test) => test.startsWith(`${dirname(mirror)}/`));
}

/** Without a mirror: the test through which each is tested. The list may only grow shorter. */
const TESTED_THROUGH: Readonly<Record<string, readonly string[]>> = {
  // Parts of a network whose whole is held to finite elements, row by row.
  'tests/physics/field/field-model.test.ts': [
    'physics/field/listener-kernel',
    'physics/field/side-model',
    'physics/field/side-network',
    'physics/field/side-parts',
    'physics/field/skeleton',
    'physics/field/turn-field',
  ],
  'tests/physics/field/field-view.reference.test.ts': ['physics/field/plate-flux'],
  'tests/physics/magnet/pair-profile.test.ts': ['physics/magnet/types'],
  // A constant for loads under which nothing flows.
  'tests/physics/circuit/operating-point.test.ts': ['physics/circuit/delivery'],
  'tests/physics/field/plate-response.test.ts': ['physics/field/plate-interior'],
  // The schema, read as a whole by every test of a design.
  'tests/design/check-schema.test.ts': [
    'design/schema-boards',
    'design/schema-chain',
    'design/schema-coil',
    'design/schema-demand',
  ],
  'tests/analysis/pair/board-bounds.test.ts': ['design/unknown-board', 'analysis/pair/mirrored-circuit'],
  // The questions that the engine answers in one go: link, number, line, map.
  'tests/engine/engine.test.ts': [
    'analysis/link/model-plan',
    'analysis/link/plates',
    'analysis/margin/band-at-pose',
    'analysis/margin/output-band',
    'analysis/margin/plate-sensitivity',
    'analysis/margin/pose-answer',
    'analysis/margin/quick-answer',
    'analysis/margin/tolerances',
    'analysis/place/map-check',
    'analysis/place/map-circuit',
    'analysis/place/offset-grid',
    'analysis/place/offset-map',
    'analysis/place/sweep-columns',
  ],
  // The engine's rivals, in air.
  'tests/analysis/pair/verdict.test.ts': [
    'analysis/pair/metrics',
    'analysis/pair/paired-changes',
    'analysis/pair/settled-reach',
  ],
  'tests/engine/fit.test.ts': [
    'analysis/prove/assemble-report',
    'analysis/prove/diagnose',
    'analysis/prove/efficiency-curve',
    'analysis/prove/fitted-map',
    'analysis/prove/next-reading',
  ],
  'tests/stations/search-words.test.ts': ['analysis/pair/search-answer'],
  'tests/analysis/hold/hold-layer.test.ts': ['analysis/margin/fast-output'],
  'tests/cli/hold.test.ts': ['analysis/hold/hold-inputs'],
};

const THROUGH = new Map<string, string>(
  Object.entries(TESTED_THROUGH).flatMap(([through, files]) =>
    files.map((file) => [`src/${file}.ts`, through] as const),
  ),
);

/** All that a file imports, directly or through others. */
function reach(file: string, seen = new Set<string>()): Set<string> {
  if (seen.has(file) || !existsSync(file)) return seen;
  seen.add(file);
  for (const target of importedBy(file)) reach(target, seen);
  return seen;
}

const LAYERS = ['numerics', 'units', 'physics', 'design', 'analysis'];

describe('every file of the pure layers is tested where one would look', () => {
  test.each(LAYERS)('%s', (layer) => {
    const lost = under(`src/${layer}`).filter((file) => works(file) && !isMirrored(file) && !THROUGH.has(file));
    expect(lost).toEqual([]);
  });

  test('what is tested through another test says which, and has no mirror of its own', () => {
    const reached = new Map(Object.keys(TESTED_THROUGH).map((through) => [through, reach(through)]));
    for (const [file, through] of THROUGH) {
      expect(existsSync(file), file).toBe(true);
      expect(reached.get(through)?.has(file), `${through} does not come to ${file}`).toBe(true);
      expect(isMirrored(file), `${file} has a mirror: take it off the list`).toBe(false);
    }
  });
});

describe('every physics file has its place and its sources', () => {
  const folders = [...new Set(under('src/physics').map(dirname))];
  test.each(folders)('%s', (folder) => {
    const page = readFileSync(join(folder, 'README.md'), 'utf8');
    const unnamed = under(folder)
      // What `types.ts` holds needs no telling.
      .filter((file) => dirname(file) === folder && works(file) && !file.endsWith('/types.ts'))
      .map((file) => relative(folder, file).replace(/\.ts$/, ''))
      .filter((name) => !new RegExp(`\`${name}(\\.ts)?\``).test(page));
    expect(unnamed).toEqual([]);
    if (folder === 'src/physics') return;
    for (const heading of ['Accuracy', 'Testing', 'Sources'])
      expect(page, `${folder}: ${heading}`).toMatch(new RegExp(`^## ${heading}\\n+\\S`, 'm'));
  });
});
