import {
  accessSync,
  closeSync,
  constants,
  fstatSync,
  mkdirSync,
  openSync,
  readSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { DESIGN_LIMITS } from '../design/defaults.ts';
import { safeText } from '../numerics/errors.ts';
import type { GivenOptions } from './options.ts';
import { UsageError } from './terminal.ts';

/** A file that cannot be read or written, in one line. */
export class FileError extends Error {
  override readonly name = 'FileError';
  readonly file: string;
  /** What is wrong with it, in words. */
  readonly why: string;
  constructor(file: string, why: string) {
    super(`${safeText(file, 200)}: ${why}.`);
    this.file = safeText(file, 200);
    this.why = why;
  }
}

const REASONS: Readonly<Record<string, string>> = Object.freeze({
  ENOENT: 'there is no such file',
  EISDIR: 'it is a directory',
  EACCES: 'it may not be read or written',
  EPERM: 'it may not be read or written',
  ENOTDIR: 'a part of its path is no directory',
  EEXIST: 'a file of that name stands in the way',
  ENOSPC: 'the disk is full',
  EROFS: 'the disk is read-only',
  ENAMETOOLONG: 'its name is too long',
});

function fileError(name: string, error: unknown): FileError {
  const code = (error as NodeJS.ErrnoException).code ?? '';
  return new FileError(name, REASONS[code] ?? `it cannot be used (${code || String(error)})`);
}

/** The text, or null where the bytes are another encoding: read as UTF-8 its letters would be lost without a word. */
function utf8(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
}

/** A character of UTF-8 has at most four bytes. */
const LARGEST_BYTES = 4 * DESIGN_LIMITS.fileBytes;

/** Text of a file; `-` is standard input. Reads no more than a design can be, however long it goes on. @throws FileError */
export function readText(name: string): string {
  const refuse = (why: string): FileError => new FileError(name, why);
  let file = 0;
  try {
    if (name !== '-') {
      file = openSync(name, 'r');
      const found = fstatSync(file);
      if (found.isDirectory()) throw refuse('it is a directory');
      if (found.isCharacterDevice() || found.isBlockDevice()) throw refuse('it is a device, not a file');
    }
    const parts: Buffer[] = [];
    for (let size = 0; ; ) {
      const part = Buffer.allocUnsafe(1 << 16);
      const count = readSome(file, part);
      if (count === 0) {
        const text = utf8(Buffer.concat(parts));
        if (text === null) throw refuse('it is no text in UTF-8; save it as UTF-8');
        return text;
      }
      size += count;
      // A pipe or a device such as /dev/zero need not end.
      if (size > LARGEST_BYTES) throw refuse(`it is too large for a design (over ${LARGEST_BYTES} bytes)`);
      parts.push(part.subarray(0, count));
    }
  } catch (error) {
    throw error instanceof FileError ? error : fileError(name, error);
  } finally {
    if (file !== 0) closeSync(file);
  }
}

/** @returns the number of bytes; 0 at the end. */
function readSome(file: number, into: Buffer): number {
  for (;;) {
    try {
      return readSync(file, into);
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      // The end of standard input on one system, and on others nothing typed yet.
      if (code === 'EOF') return 0;
      if (code !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 20);
    }
  }
}

/** Makes a directory and those above it. Not by the `recursive` of Node, which never ends where a file system makes none. */
function makeDirectory(path: string): void {
  try {
    mkdirSync(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST' && statSync(path).isDirectory()) return;
    if (code !== 'ENOENT' || dirname(path) === path) throw error;
    makeDirectory(dirname(path));
    mkdirSync(path);
  }
}

/**
 * The directory of `--out`, made where it is missing; undefined where none was asked for. Called before long work, so that
 * nothing is lost to a place that takes no files.
 *
 * @throws FileError, UsageError
 */
export function outDirectory(given: GivenOptions): string | undefined {
  const directory = given.values.get('out')?.[0];
  if (directory === undefined) return undefined;
  if (directory.trim() === '') throw new UsageError('Option --out needs the name of a directory; received nothing.');
  try {
    makeDirectory(resolve(directory));
    accessSync(directory, constants.W_OK);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') throw new FileError(directory, 'it cannot be made there');
    throw fileError(directory, error);
  }
  return directory;
}

/** Writes texts into a directory. @returns the paths. @throws FileError */
export function writeTexts(directory: string, texts: Readonly<Record<string, string>>): string[] {
  let current = directory;
  try {
    return Object.entries(texts).map(([name, text]) => {
      current = join(directory, name);
      writeFileSync(current, text);
      return current;
    });
  } catch (error) {
    throw fileError(current, error);
  }
}
