import { mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DESIGN_LIMITS } from '../design/defaults.ts';
import { safeText } from '../design/path.ts';

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

/** Text of a file; `-` is standard input. @throws FileError */
export function readText(name: string): string {
  try {
    const found = name === '-' ? null : statSync(name);
    // A device such as /dev/zero never ends.
    if (found?.isCharacterDevice() || found?.isBlockDevice()) {
      throw new FileError(`${safeText(name, 200)}: it is a device, not a file.`);
    }
    if (found !== null && found.size > 4 * DESIGN_LIMITS.fileBytes) {
      throw new FileError(
        `${safeText(name, 200)}: it is too large for a design (over ${4 * DESIGN_LIMITS.fileBytes} bytes).`,
      );
    }
    return readFileSync(name === '-' ? 0 : name, 'utf8');
  } catch (error) {
    throw error instanceof FileError ? error : fileError(name, error);
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
