import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { run } from '../../src/cli/run.ts';

export interface Told {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  /** Lines of `err`. */
  readonly lines: string[];
}

/** Runs a command in this process. */
export async function tell(...words: string[]): Promise<Told> {
  let out = '';
  let err = '';
  const code = await run(words, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
  });
  return { code, out, err, lines: err.split('\n').filter((line) => line !== '') };
}

const directory = mkdtempSync(join(tmpdir(), 'offcentre-'));
let count = 0;

/** A file with this text, or this value as JSON. */
export function file(content: unknown): string {
  const name = join(directory, `${++count}.json`);
  writeFileSync(name, typeof content === 'string' ? content : JSON.stringify(content));
  return name;
}

export function freshDirectory(): string {
  return join(directory, `out-${++count}`, 'deep');
}
