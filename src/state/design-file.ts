import { parseDesignText } from '../design/resolve.ts';
import type { DesignDocument } from '../design/schema.ts';
import { faultLine } from '../numerics/errors.ts';

export type OpenedFile =
  | { readonly ok: true; readonly document: DesignDocument }
  /** One line for each fault, ready to show. */
  | { readonly ok: false; readonly lines: readonly string[] };

const MOST_LINES = 20;
const LARGEST_BYTES = 2_000_000;

/** A file name made of a design's title. */
export function fileNameOf(title: string, extension: string): string {
  const words = title
    .normalize('NFKD')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase()
    .slice(0, 60);
  return `${words || 'design'}.${extension}`;
}

/** The document as the text of a design file. */
export function designText(document: DesignDocument): string {
  return `${JSON.stringify(document, null, 2)}\n`;
}

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
