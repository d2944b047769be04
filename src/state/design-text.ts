import type { DesignDocument } from '../design/schema.ts';

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
