import { closeSync, fstatSync, mkdirSync, openSync, readSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DESIGN_LIMITS } from '../design/defaults.ts';
import { safeText } from '../numerics/errors.ts';

/** A file that cannot be read or written, in one line. */
export class FileError extends Error {
  override readonly name = 'FileError';
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
  return new FileError(`${safeText(name, 200)}: ${REASONS[code] ?? `it cannot be used (${code || String(error)})`}.`);
}

/** A character of UTF-8 has at most four bytes. */
const LARGEST_BYTES = 4 * DESIGN_LIMITS.fileBytes;

/** Text of a file; `-` is standard input. Reads no more than a design can be, however long it goes on. @throws FileError */
export function readText(name: string): string {
  const refuse = (why: string): FileError => new FileError(`${safeText(name, 200)}: ${why}.`);
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
      if (count === 0) return Buffer.concat(parts).toString('utf8');
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

/** Writes texts into a directory, which is made where it is missing. @returns the paths. @throws FileError */
export function writeTexts(directory: string, texts: Readonly<Record<string, string>>): string[] {
  let current = directory;
  try {
    mkdirSync(directory, { recursive: true });
    return Object.entries(texts).map(([name, text]) => {
      current = join(directory, name);
      writeFileSync(current, text);
      return current;
    });
  } catch (error) {
    throw fileError(current, error);
  }
}
