import { MIGRATIONS, type Migration, migrate } from '../design/migrations.ts';
import { parseDesign } from '../design/resolve.ts';
import type { DesignDocument } from '../design/schema.ts';
import { isPlainObject } from '../design/schema-node.ts';
import type { Draft } from './drafts.ts';
import { resolveDocument } from './resolved-design.ts';
import type { Snapshot } from './store.ts';

const KIND = 'offcentre-session';

/** A session as it is kept between visits. */
export interface KeptSession extends Snapshot {
  readonly compare: DesignDocument | null;
  /** The last document that held together; the same as `document` unless a fault was being mended. */
  readonly lastGood: DesignDocument;
  /** What the clock of the machine said, ms; for the reader only, because clocks are set back. */
  readonly savedAt: number;
  /** Grows with every save, whatever the clock says: of two copies the one with the higher number is the newer. */
  readonly revision: number;
  /** The revision of the common copy that its page had seen before. */
  readonly parent: number;
  /** Which page wrote it. */
  readonly writer: string;
}

/** What is found where a session should be. */
export type Found =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'session'; readonly session: KeptSession }
  /** Kept by a newer program. */
  | { readonly kind: 'newer'; readonly text: string }
  | { readonly kind: 'damaged'; readonly text: string };

export function keptText(session: KeptSession): string {
  return JSON.stringify({ kind: KIND, ...session });
}

/** Whether two sessions hold the same work, whoever kept it and when. */
export function sameWork(a: KeptSession, b: KeptSession): boolean {
  const work = ({ document, drafts, compare }: KeptSession): string => JSON.stringify([document, drafts, compare]);
  return work(a) === work(b);
}

function draftsOf(value: unknown): Readonly<Record<string, Draft>> {
  if (!isPlainObject(value)) return {};
  const isText = (part: unknown): boolean => typeof part === 'string';
  const sound = ([, draft]: [string, unknown]): boolean => {
    if (!isPlainObject(draft) || !isText(draft.text)) return false;
    const fault = draft.fault;
    if (fault === null) return true;
    return isPlainObject(fault) && [fault.code, fault.path, fault.required, fault.received].every(isText);
  };
  return Object.fromEntries(Object.entries(value).filter(sound)) as Readonly<Record<string, Draft>>;
}

/** Whether a document with a fault in it still has the parts that every station reads. */
function hasShape(document: unknown): document is DesignDocument {
  if (!isPlainObject(document)) return false;
  return [document.transmitter, document.receiver].every((side) => isPlainObject(side) && isPlainObject(side.coil));
}

/** Reads what was kept. Never throws; a session that comes back can be put on the table as it is. */
export function readKept(text: string | null, migrations: readonly Migration[] = MIGRATIONS): Found {
  if (text === null) return { kind: 'nothing' };
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { kind: 'damaged', text };
  }
  if (!isPlainObject(value) || value.kind !== KIND) return { kind: 'damaged', text };
  const document = migrate(value.document, migrations);
  const lastGood = migrate(value.lastGood ?? value.document, migrations);
  const parsed = parseDesign(lastGood, { migrations });
  if (!parsed.ok) return { kind: parsed.faults[0]?.code === 'newer-version' ? 'newer' : 'damaged', text };
  const good = parsed.document;
  if (!resolveDocument(good).ok || !hasShape(document)) return { kind: 'damaged', text };
  const compare = migrate(value.compare, migrations) as DesignDocument;
  const savedAt = Number.isFinite(value.savedAt) ? Number(value.savedAt) : 0;
  const revision = Number.isFinite(value.revision) ? Number(value.revision) : savedAt;
  return {
    kind: 'session',
    session: {
      document,
      lastGood: good,
      drafts: draftsOf(value.drafts),
      compare: isPlainObject(compare) && resolveDocument(compare).ok ? compare : null,
      savedAt,
      revision,
      parent: Number.isFinite(value.parent) ? Number(value.parent) : revision - 1,
      writer: typeof value.writer === 'string' ? value.writer : '',
    },
  };
}

/**
 * Which of several copies goes on the table: the common one, unless a page was closed before its last change reached it.
 * @returns the copy, and those whose page had not seen it: their work is somebody else's and must be kept apart
 */
export function newestOf(
  common: KeptSession | null,
  rescued: readonly KeptSession[],
): { readonly session: KeptSession | null; readonly apart: readonly KeptSession[] } {
  const rising = rescued.toSorted((a, b) => a.revision - b.revision);
  let session = common ?? rising.pop() ?? null;
  const others: KeptSession[] = [];
  for (const rescue of rising) {
    if (session === null) break;
    const continues = rescue.writer === session.writer || rescue.parent >= session.revision;
    if (!continues) others.push(rescue);
    else if (rescue.revision > session.revision) session = rescue;
  }
  const chosen = session;
  const apart = others.filter((other) => chosen !== null && !sameWork(other, chosen));
  return { session, apart };
}
