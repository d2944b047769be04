/** Starts the built command line; builds it first where it is missing or older than its sources. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, rmdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));
const built = join(root, 'dist/cli/offcentre.mjs');
/** What the page alone is made of does not enter the command line. */
const elsewhere = new Set(['scene', 'charts', 'parts', 'stations', 'state']);

function newest(directory) {
  let time = 0;
  for (const entry of readdirSync(directory, { withFileTypes: true })) {
    if (elsewhere.has(entry.name)) continue;
    const path = join(directory, entry.name);
    time = Math.max(time, entry.isDirectory() ? newest(path) : statSync(path).mtimeMs);
  }
  return time;
}

function isStale() {
  if (!existsSync(built)) return true;
  const age = statSync(built).mtimeMs;
  return newest(join(root, 'src')) > age || newest(join(root, 'workers')) > age;
}

/** Two calls at once must not build over each other: the second waits for the first. */
async function buildAlone() {
  const lock = join(root, 'node_modules/.offcentre-build');
  for (let waited = 0; ; waited += 100) {
    try {
      mkdirSync(lock);
      break;
    } catch (error) {
      // Somebody who was stopped in mid-build leaves the lock behind.
      if (error.code !== 'EEXIST' || waited > 90_000) break;
      await new Promise((resolve) => setTimeout(resolve, 100));
    }
  }
  let status = 0;
  if (isStale()) {
    process.stderr.write('Building the command line, once ...\n');
    const vite = join(root, 'node_modules/vite/bin/vite.js');
    const words = [vite, 'build', '--mode', 'cli', '--logLevel', 'error'];
    // Standard output belongs to the command: the build may only speak on standard error.
    status = spawnSync(process.execPath, words, { cwd: root, stdio: ['ignore', 2, 2] }).status ?? 1;
  }
  if (existsSync(lock)) rmdirSync(lock);
  if (status !== 0) {
    process.stderr.write('The command line could not be built; `npm ci` in the project folder mends most causes.\n');
    process.exit(70);
  }
}

if (isStale()) await buildAlone();
// `npm run` moves to the project folder; file names are meant from where the user stands.
const { INIT_CWD, npm_lifecycle_event: script } = process.env;
if (script === 'offcentre' && INIT_CWD !== undefined && existsSync(INIT_CWD)) process.chdir(INIT_CWD);
await import(pathToFileURL(built).href);
