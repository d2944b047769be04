import { DESIGN_LIMITS } from '../design/defaults.ts';
import { readJsonText } from '../design/json-text.ts';
import { parseDesign } from '../design/resolve.ts';
import type { DesignDocument } from '../design/schema.ts';
import { faultLine } from '../numerics/errors.ts';

/** Version of the packing, in the link itself, so that old links stay readable. */
const PACKING = '1';
/** A design is a few kilobytes; anything that is, or unpacks to, more than this is not one. */
const LARGEST_BYTES = DESIGN_LIMITS.fileBytes;

export type SharedDesign =
  | { readonly kind: 'none' }
  | { readonly kind: 'design'; readonly document: DesignDocument }
  /** A sentence for the reader. */
  | { readonly kind: 'unreadable'; readonly message: string };

function toBase64Url(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return btoa(text).replace(/\+/g, '-').replace(/\//g, '_').replace(/=+$/, '');
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text.replace(/-/g, '+').replace(/_/g, '/')), (c) => c.charCodeAt(0));
}

/** Reads a stream to its end, giving up once it is longer than a design can be. */
async function readAll(stream: ReadableStream<Uint8Array>): Promise<Uint8Array> {
  const parts: Uint8Array[] = [];
  let size = 0;
  const reader = stream.getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > LARGEST_BYTES) {
      await reader.cancel();
      throw new RangeError('too long');
    }
    parts.push(value);
  }
  const all = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

function through(
  bytes: Uint8Array<ArrayBuffer>,
  transform: CompressionStream | DecompressionStream,
): Promise<Uint8Array> {
  return readAll(
    new Blob([bytes]).stream().pipeThrough(transform as ReadableWritablePair<Uint8Array, Uint8Array<ArrayBuffer>>),
  );
}

/**
 * The whole design as the fragment of a link, `#place~1.…`: nothing is sent to any server.
 * @param station the view the link opens
 */
export async function shareFragment(document: DesignDocument, station: string): Promise<string> {
  const text = new TextEncoder().encode(JSON.stringify(document));
  const packed = await through(text, new CompressionStream('deflate-raw'));
  return `#${station}~${PACKING}.${toBase64Url(packed)}`;
}

/**
 * Station and packed design of a fragment; `packed` is null in an ordinary one. What carries links writes the tilde out, takes
 * the end of a sentence in, or has the link twice: of that only the link itself is read.
 */
export function splitFragment(fragment: string): { readonly station: string; readonly packed: string | null } {
  const text = fragment
    .replace(/^#/, '')
    .replace(/^([a-z]*)%7e/i, '$1~')
    .replace(/^([a-z]*~\d+\.[\w-]+?)(?:https?:|[^\w-]).*$/s, '$1');
  const at = text.indexOf('~');
  return at < 0 ? { station: text, packed: null } : { station: text.slice(0, at), packed: text.slice(at + 1) };
}

/** Reads the design out of a link's fragment. Never throws. */
export async function readShareFragment(fragment: string): Promise<SharedDesign> {
  const { packed } = splitFragment(fragment);
  if (packed === null) return { kind: 'none' };
  const unreadable = (why: string): SharedDesign => ({
    kind: 'unreadable',
    message: `The design in this link cannot be read: ${why} Your own design is untouched.`,
  });
  if (packed.length > LARGEST_BYTES) return unreadable('it is far longer than a design can be.');
  const found = /^(\d+)\.([A-Za-z0-9_-]*)$/.exec(packed);
  if (!found) return unreadable('the link is damaged. Ask for it again, or for the design as a file.');
  if (found[1] !== PACKING) {
    return unreadable('it was made by another version of the program. Ask for the design as a file instead.');
  }
  const damaged = 'the link is cut short or damaged. Ask for it again, or for the design as a file.';
  let text: string;
  try {
    const bytes = await through(fromBase64Url(found[2]), new DecompressionStream('deflate-raw'));
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return unreadable(damaged);
  }
  const json = readJsonText(text);
  if (!json.ok) return unreadable(damaged);
  const parsed = parseDesign(json.value);
  if (!parsed.ok) return unreadable(`${faultLine(parsed.faults[0])}`);
  return { kind: 'design', document: parsed.document };
}
