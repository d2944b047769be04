import { readJsonText } from './json-text.ts';
import { type DesignResult, parseDesign } from './resolve.ts';

/** `parseDesign` on the text of a file; syntax errors come with line and column. */
export function parseDesignText(text: string): DesignResult {
  const json = readJsonText(text);
  return json.ok ? parseDesign(json.value) : { ok: false, faults: json.faults };
}
