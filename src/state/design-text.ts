import type { DesignDocument } from '../design/schema.ts';

/** Names that one operating system keeps for its devices, with any ending. */
const DEVICES = /^(con|prn|aux|nul|com\d|lpt\d)$/;

/** A file name made of a design's title: letters and digits alone, so that no path, device or direction mark gets in. */
export function fileNameOf(title: string, extension: string): string {
  const words = title
    .normalize('NFKD')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase();
  const short = [...words].slice(0, 60).join('');
  return `${short === '' || DEVICES.test(short) ? `design${short}` : short}.${extension}`;
}

/** The document as the text of a design file. */
export function designText(document: DesignDocument): string {
  return `${JSON.stringify(document, null, 2)}\n`;
}
