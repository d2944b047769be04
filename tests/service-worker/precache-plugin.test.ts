import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { precacheOf } from '../../src/service-worker/precache-plugin.ts';

const made: string[] = [];

function directoryOf(files: Readonly<Record<string, string>>): string {
  const directory = mkdtempSync(join(tmpdir(), 'precache-'));
  made.push(directory);
  mkdirSync(join(directory, 'assets'));
  for (const [name, text] of Object.entries(files)) writeFileSync(join(directory, name), text);
  return directory;
}

afterEach(() => {
  for (const directory of made.splice(0)) rmSync(directory, { recursive: true });
});

const FILES = { 'index.html': 'page', 'assets/a.js': 'a', 'service-worker.js': 'itself', 'assets/a.js.map': 'map' };

it('lists every file of a build but the worker itself and source maps', () => {
  expect(precacheOf(directoryOf(FILES)).files).toEqual(['assets/a.js', 'index.html']);
});

it('has the same version for the same files, and another for any change', () => {
  const version = (files: Record<string, string>): string => precacheOf(directoryOf(files)).version;
  const first = version(FILES);
  expect(version({ ...FILES })).toBe(first);
  expect(version({ ...FILES, 'service-worker.js': 'changed' })).toBe(first);
  expect(version({ ...FILES, 'index.html': 'page two' })).not.toBe(first);
  expect(version({ ...FILES, 'assets/b.js': '' })).not.toBe(first);
});
