import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import type { Plugin } from 'vite';
import type { Precache } from './offline.ts';

const WORKER = 'service-worker.js';
const PLACEHOLDER = '__PRECACHE__';

function filesUnder(directory: string): string[] {
  return readdirSync(directory, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(directory, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .filter((file) => file !== WORKER && !file.endsWith('.map'))
    .toSorted();
}

/** The list of a finished build. */
export function precacheOf(directory: string): Precache {
  const files = filesUnder(directory);
  const hash = createHash('sha256');
  for (const file of files)
    hash
      .update(file)
      .update('\0')
      .update(readFileSync(join(directory, file)));
  return { version: hash.digest('hex').slice(0, 16), files };
}

/** Builds the service worker beside the page and tells it which files there are. */
export function precachePlugin(): Plugin {
  return {
    name: 'offcentre-precache',
    apply: 'build',
    buildStart() {
      this.emitFile({
        type: 'chunk',
        id: new URL('./service-worker.ts', import.meta.url).pathname,
        fileName: WORKER,
      });
    },
    writeBundle({ dir }) {
      if (dir === undefined) return;
      const path = join(dir, WORKER);
      const code = readFileSync(path, 'utf8');
      if (!code.includes(PLACEHOLDER)) throw new Error(`${WORKER} has no ${PLACEHOLDER}`);
      if (/^\s*(import|export)\b/m.test(code)) throw new Error(`${WORKER} must stand alone`);
      writeFileSync(
        path,
        code.replaceAll(PLACEHOLDER, () => JSON.stringify(precacheOf(dir))),
      );
    },
  };
}
