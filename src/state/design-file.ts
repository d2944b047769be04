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
  let bytes: ArrayBuffer;
  try {
    bytes = await file.arrayBuffer();
  } catch {
    return { ok: false, lines: ['That file could not be read from the disk.'] };
  }
  try {
    return openText(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch {
    // Read as UTF-8 all the same, letters of another encoding would be lost without a word.
    return { ok: false, lines: ['That file is no text in UTF-8. If it is a design, save it as UTF-8.'] };
  }
}
