import { mkdir, readdir, readFile, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Plugin, transformWithOxc } from 'vite';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const SRC = join(ROOT, 'src');
const OUT = join(ROOT, 'node_modules/.cache/native-sources');

/** Where the plain JavaScript of a source file stands. */
const compiled = (source: string): string => join(OUT, relative(SRC, source).replace(/\.ts$/, '.js'));

/**
 * Lets the tests of the fast tier import `src` as plain modules of Node. The test runner would otherwise turn each use of
 * an import into a lookup, which makes numerical code two to three times slower than what is shipped. Types are stripped
 * once a run, of changed files only; a file changed while the runner watches needs a new run.
 */
export function nativeSources(): Plugin {
  return {
    name: 'native-sources',
    enforce: 'pre',
    buildStart: compileSources,
    resolveId(source, importer) {
      if (!importer || !source.startsWith('.') || !source.endsWith('.ts')) return null;
      const target = resolve(dirname(importer), source);
      return target.startsWith(`${SRC}/`) && !importer.startsWith(`${SRC}/`) ? compiled(target) : null;
    },
  };
}

async function compileSources(): Promise<void> {
  const names = await readdir(SRC, { recursive: true });
  const sources = names
    .filter((name) => name.endsWith('.ts') && !name.endsWith('.d.ts'))
    .map((name) => join(SRC, name));
  const wanted = new Set(sources.map(compiled));
  await mkdir(OUT, { recursive: true });
  await writeFile(join(OUT, 'package.json'), '{ "type": "module" }\n');
  for (const name of await readdir(OUT, { recursive: true })) {
    if (name.endsWith('.js') && !wanted.has(join(OUT, name))) await rm(join(OUT, name), { force: true });
  }
  for (const source of sources) await compile(source);
}

async function compile(source: string): Promise<void> {
  const target = compiled(source);
  const { mtime } = await stat(source);
  const before = await stat(target).catch(() => null);
  if (before?.mtimeMs === mtime.getTime()) return;
  const text = await readFile(source, 'utf8');
  const code = await strip(source, text).catch(
    // Only the tests that need this file should fail.
    (error: unknown) => `throw new Error(${JSON.stringify(String(error))});\n`,
  );
  await mkdir(dirname(target), { recursive: true });
  // Another run may be reading: the file is replaced whole.
  const whole = `${target}.${process.pid}`;
  await writeFile(whole, code);
  await utimes(whole, mtime, mtime);
  await rename(whole, target);
}

async function strip(source: string, text: string): Promise<string> {
  const { code } = await transformWithOxc(text, source, {
    sourcemap: false,
    typescript: { rewriteImportExtensions: true },
  });
  return code;
}
