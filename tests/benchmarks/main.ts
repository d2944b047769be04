import { readFileSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { resolve } from 'node:path';
import { compare } from './compare.ts';
import { fieldRows } from './field-rows.ts';
import { holdRows } from './hold-rows.ts';
import { kernelRows } from './kernel-rows.ts';
import { machineLimit } from './machine-limit.ts';
import { mapRows } from './map-rows.ts';
import { poseRows } from './pose-rows.ts';
import { surrogateRows } from './surrogate-rows.ts';
import { print, type Report, type Row, type Target } from './table.ts';

const read = (file: string): Report => JSON.parse(readFileSync(file, 'utf8')) as Report;

interface Part {
  readonly rows: Row[];
  readonly targets: Target[];
}

async function measure(only: string): Promise<Report> {
  const parts: Readonly<Record<string, () => Part | Promise<Part>>> = {
    kernel: () => kernelRows(machineLimit(resolve('tests/benchmarks/peak.c'))),
    pose: poseRows,
    map: mapRows,
    surrogate: surrogateRows,
    field: fieldRows,
    hold: holdRows,
  };
  const rows: Row[] = [];
  const targets: Target[] = [];
  for (const [name, part] of Object.entries(parts)) {
    if (only !== '' && !name.includes(only)) continue;
    process.stderr.write(`${name} ...\n`);
    const result = await part();
    rows.push(...result.rows);
    targets.push(...result.targets);
  }
  const machine = { node: process.versions.node, processor: cpus()[0]?.model ?? '', load: loadavg()[0]! };
  return { machine, rows, targets };
}

function option(args: readonly string[], name: string): string {
  const at = args.indexOf(name);
  return at < 0 ? '' : (args[at + 1] ?? '');
}

/** @returns exit code: 1 where a target is missed or the comparison found something worse, 2 for a usage error */
export async function main(args: readonly string[]): Promise<number> {
  if (args[0] === 'compare') {
    if (args[1] === undefined) {
      process.stderr.write('compare BASELINE.json [CURRENT.json]\n');
      return 2;
    }
    const current = args[2] === undefined ? await measure('') : read(args[2]);
    const { lines, worse } = compare(read(args[1]), current);
    process.stdout.write(`${lines.join('\n')}\n${worse} slower or less exact\n`);
    return worse > 0 ? 1 : 0;
  }
  const report = await measure(option(args, '--only'));
  process.stdout.write(`${print(report)}\n`);
  const file = option(args, '--json');
  if (file !== '') writeFileSync(file, `${JSON.stringify(report, null, 1)}\n`);
  return report.targets.every((target) => target.met) ? 0 : 1;
}
