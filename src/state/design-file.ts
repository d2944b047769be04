import { parseDesignText } from '../design/resolve-text.ts';
import type { DesignDocument } from '../design/schema.ts';
import { faultLine } from '../numerics/errors.ts';

export type OpenedFile =
  | { readonly ok: true; readonly document: DesignDocument }
  /** One line for each fault, ready to show. */
  | { readonly ok: false; readonly lines: readonly string[] };

const MOST_LINES = 20;
const LARGEST_BYTES = 2_000_000;

/** Reads the text of a design file. */
export function openText(text: string): OpenedFile {
  const parsed = parseDesignText(text);
  if (parsed.ok) return { ok: true, document: parsed.document };
  return { ok: false, lines: parsed.faults.slice(0, MOST_LINES).map(faultLine) };
}

/** Reads a file chosen or dropped. Never throws. */
export async function openFile(file: Blob): Promise<OpenedFile> {
  if (file.size > LARGEST_BYTES) {
    return { ok: false, lines: ['That file is far larger than a design can be, so it was not opened.'] };
  }
  try {
    return openText(await file.text());
  } catch {
    return { ok: false, lines: ['That file could not be read from the disk.'] };
  }
}
