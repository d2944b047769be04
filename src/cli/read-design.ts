import { readJsonText } from '../design/json-text.ts';
import { migrate } from '../design/migrations.ts';
import { type DesignResult, parseDesign } from '../design/resolve.ts';
import { windingFaults } from '../design/wind.ts';
import type { FaultDetail } from '../numerics/errors.ts';
import { faultLine } from '../numerics/errors.ts';
import { readText } from './files.ts';
import type { GivenOptions } from './options.ts';
import { EXIT, jsonText, type Terminal } from './terminal.ts';

/** How many faults are printed before the rest is counted. */
export const FAULTS_SHOWN = 20;

/** The design of the first file with `--set` applied, wound for a test; or its faults. @throws FileError, UsageError */
export async function readDesign(given: GivenOptions): Promise<DesignResult> {
  const json = readJsonText(readText(given.files[0]));
  if (!json.ok) return { ok: false, faults: json.faults };
  let document = migrate(json.value);
  const settings = given.values.get('set') ?? [];
  if (settings.length > 0) {
    const { applySetting } = await import('./apply-setting.ts');
    for (const setting of settings) {
      const edited = await applySetting(document, setting);
      if (!edited.ok) return { ok: false, faults: [edited.fault] };
      document = edited.document;
    }
  }
  const parsed = parseDesign(document);
  if (!parsed.ok) return parsed;
  const faults = windingFaults(parsed.design);
  return faults.length === 0 ? parsed : { ok: false, faults };
}

/**
 * Tells what is wrong: one line a fault on standard error, at most twenty. With `--json` the same faults go to standard
 * output as one object.
 *
 * @returns the exit code.
 */
export function tellFaults(faults: readonly FaultDetail[], given: GivenOptions, terminal: Terminal): number {
  for (const fault of faults.slice(0, FAULTS_SHOWN - (faults.length > FAULTS_SHOWN ? 1 : 0))) {
    terminal.err(`${faultLine(fault).replace(/[\r\n]+/g, ' ')}\n`);
  }
  if (faults.length > FAULTS_SHOWN) terminal.err(`... and ${faults.length - FAULTS_SHOWN + 1} more faults.\n`);
  if (given.values.has('json')) terminal.out(`${jsonText({ ok: false, faults })}\n`);
  return EXIT.wrongDesign;
}
