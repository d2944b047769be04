import type { PathSegment } from '../design/path.ts';
import type { DesignDocument } from '../design/schema.ts';

type Node = Record<PathSegment, unknown> | unknown[];

function isNode(value: unknown): value is Node {
  return typeof value === 'object' && value !== null;
}

/** A copy of `node` with one key set, or removed when `value` is undefined. */
function withKey(node: unknown, key: PathSegment, value: unknown): Node {
  if (typeof key === 'number') {
    const list = Array.isArray(node) ? [...node] : [];
    if (value === undefined) list.splice(key, 1);
    else list[key] = value;
    return list;
  }
  const copy: Record<string, unknown> = isNode(node) && !Array.isArray(node) ? { ...node } : {};
  if (value === undefined) delete copy[key];
  else Object.defineProperty(copy, key, { value, enumerable: true, writable: true, configurable: true });
  return copy;
}

function withAny(node: unknown, segments: readonly PathSegment[], value: unknown): unknown {
  if (segments.length === 0) return value;
  const [key, ...rest] = segments;
  const child = isNode(node) && Object.hasOwn(node, key) ? (node as Record<PathSegment, unknown>)[key] : undefined;
  const next = withAny(child, rest, value);
  return next === child && next !== undefined ? node : withKey(node, key, next);
}

/**
 * The document with the value at a path replaced; everything off the path is shared with the original, which stays as it
 * is. `undefined` removes a key or a list entry. Missing objects on the way are made.
 */
export function withValue(document: DesignDocument, segments: readonly PathSegment[], value: unknown): DesignDocument {
  return withAny(document, segments, value) as DesignDocument;
}
