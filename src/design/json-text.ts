import { type FaultDetail, safeText } from '../numerics/errors.ts';
import { DESIGN_LIMITS } from './defaults.ts';
import { formatPath, type PathSegment } from './path.ts';

export type JsonText =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly faults: FaultDetail[] };

const MAX_DEPTH = 64;
/** Keys told as given twice: enough for any slip. */
const TWICE_TOLD = 100;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const STRING = /"(?:[^"\\\p{Cc}]|[\u007f-\u009f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/uy;
const WORD = /true|false|null/y;
const SPACE = /[ \t\r\n]*/y;

/** Where and why a text is not JSON, and which keys stand twice. JSON.parse says neither alike in all engines. */
class Scanner {
  readonly #text: string;
  #at = 0;
  readonly twice: string[] = [];

  constructor(text: string) {
    this.#text = text;
  }

  /** @returns null, or what was expected where. */
  scan(): { expected: string; at: number } | null {
    const expected = this.#value([]) ?? (this.#peek() === '' ? null : 'the end of the file');
    return expected === null ? null : { expected, at: this.#at };
  }

  #peek(): string {
    this.#take(SPACE);
    return this.#text.charAt(this.#at);
  }

  #take(pattern: RegExp): string | null {
    pattern.lastIndex = this.#at;
    const found = pattern.exec(this.#text);
    if (found === null) return null;
    this.#at = pattern.lastIndex;
    return found[0];
  }

  #value(path: PathSegment[]): string | null {
    if (path.length > MAX_DEPTH) return `nesting of at most ${MAX_DEPTH} levels`;
    const first = this.#peek();
    if (first === '{') return this.#object(path);
    if (first === '[') return this.#list(path);
    if (first === '"') return this.#take(STRING) === null ? 'text in double quotes, closed on the same line' : null;
    return this.#take(NUMBER) !== null || this.#take(WORD) !== null ? null : 'a value';
  }

  #object(path: PathSegment[]): string | null {
    this.#at++;
    if (this.#peek() === '}') return this.#step();
    const seen = new Set<string>();
    for (;;) {
      if (this.#peek() !== '"') return 'a key in double quotes';
      const raw = this.#take(STRING);
      if (raw === null) return 'a key in double quotes';
      const key = String(JSON.parse(raw));
      if (seen.has(key) && this.twice.length < TWICE_TOLD) this.twice.push(formatPath([...path, key]));
      seen.add(key);
      if (this.#peek() !== ':') return '":" after the key';
      this.#at++;
      const fault = this.#value([...path, key]);
      if (fault !== null) return fault;
      const next = this.#peek();
      if (next === '}') return this.#step();
      if (next !== ',') return '"," or "}"';
      this.#at++;
    }
  }

  #list(path: PathSegment[]): string | null {
    this.#at++;
    if (this.#peek() === ']') return this.#step();
    for (let i = 0; ; i++) {
      const fault = this.#value([...path, i]);
      if (fault !== null) return fault;
      const next = this.#peek();
      if (next === ']') return this.#step();
      if (next !== ',') return '"," or "]"';
      this.#at++;
    }
  }

  #step(): null {
    this.#at++;
    return null;
  }
}

function badJson(required: string, received: string, hint?: string): JsonText {
  return {
    ok: false,
    faults: [{ code: 'bad-json', path: '', required, received, ...(hint === undefined ? {} : { hint }) }],
  };
}

function hintAt(body: string, at: number): string | undefined {
  if (/^\/[/*]/.test(body.slice(at, at + 2))) return 'JSON has no comments: use "notes".';
  // What another encoding looks like when it is read as UTF-8.
  if (/[\0\ufffd]/.test(body.slice(at, at + 2))) return 'Save the file as UTF-8.';
  return undefined;
}

/**
 * Reads JSON text.
 *
 * @returns the value; or one fault with line and column where it is no JSON, or one fault for each key given twice.
 */
export function readJsonText(text: string): JsonText {
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  if (body.length > DESIGN_LIMITS.fileBytes) {
    return badJson(`a file of at most ${DESIGN_LIMITS.fileBytes} characters`, `${body.length} characters`);
  }
  if (body.trim() === '') return badJson('a JSON object', 'an empty file');
  const scanner = new Scanner(body);
  const stop = scanner.scan();
  if (stop !== null) {
    const before = body.slice(0, stop.at).split('\n');
    const found =
      stop.at >= body.length
        ? 'the end of the file'
        : JSON.stringify(safeText(body.slice(stop.at, stop.at + 12).split('\n')[0], 12));
    const place = `line ${before.length}, column ${before[before.length - 1].length + 1}`;
    return badJson(`JSON: ${stop.expected} is expected at ${place}`, found, hintAt(body, stop.at));
  }
  if (scanner.twice.length > 0) {
    return {
      ok: false,
      faults: scanner.twice.map((path) => ({
        code: 'duplicate-key',
        path,
        required: 'given once',
        received: 'the key twice in one object',
      })),
    };
  }
  return { ok: true, value: JSON.parse(body) };
}
