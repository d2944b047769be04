import { chmodSync, mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { COMMANDS } from '../../src/cli/commands.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { tell } from '../cli/capture.ts';
import { designText } from './hostile-design.ts';
import { hostileText, OBEYED, oddNumber, PATIENCE, share, watchedLater } from './support.ts';

const directory = mkdtempSync(join(tmpdir(), 'offcentre-fuzz-'));
const at = (name: string): string => join(directory, name);
writeFileSync(at('good.json'), JSON.stringify(DEMO_DESIGN));
writeFileSync(at('empty.json'), '');
writeFileSync(
  at('bytes.json'),
  Uint8Array.from({ length: 256 }, (_, i) => i),
);
writeFileSync(at('utf16.json'), Buffer.from(`\ufeff${JSON.stringify(DEMO_DESIGN)}`, 'utf16le'));
writeFileSync(at('large.json'), ' '.repeat(8_100_000));
writeFileSync(at('locked.json'), '{}');
chmodSync(at('locked.json'), 0);
mkdirSync(at('folder'));

const BAD_FILES = [
  'empty.json',
  'bytes.json',
  'utf16.json',
  'large.json',
  'locked.json',
  'folder',
  'none.json',
  'good.json/x',
];
const badFile = fc.oneof(
  fc.constantFrom(...BAD_FILES).map(at),
  fc.constantFrom('/dev/null/x', '/dev/zero', 'x'.repeat(5000), 'a\u0000b', '\u001b[2J'),
);

const PATHS = [
  'transmitter.coil.turns',
  'stack[0].thicknessMm',
  'title',
  'receiver.ferrite',
  'demand.loads[0].name',
  'readings',
];
const setting = fc
  .tuple(
    fc.oneof(
      fc.constantFrom(...PATHS, '__proto__.x', 'constructor.prototype.x', 'stack[999]', 'a..b', ''),
      hostileText,
    ),
    fc.oneof(oddNumber.map(String), fc.json(), hostileText, fc.constantFrom('4.2 mm', '0.11 uF', '5 kg', 'null')),
  )
  .map(([path, value]) => `--set=${path}=${value}`);

const option = fc.oneof(
  { weight: 3, arbitrary: setting },
  {
    weight: 1,
    arbitrary: fc.constantFrom('--json', '--robust', '--map', '--', '-x', '--__proto__', '--set', '--points'),
  },
  { weight: 1, arbitrary: oddNumber.map((x) => `--points=${x}`) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(`--out=${at('written')}`, `--out=${at('good.json')}`, '--out=', '--out=/proc/none'),
  },
  { weight: 1, arbitrary: hostileText.filter((word) => word !== '-').map((word) => `--${word}`) },
);

/** Calls that a user could make by mistake; none that would set the engine to minutes of honest work. */
const call = fc.oneof(
  {
    weight: 3,
    arbitrary: fc
      .tuple(fc.array(option, { maxLength: 4 }), fc.boolean())
      .map(([options, json]) => ['check', at('good.json'), ...options, ...(json ? ['--json'] : [])]),
  },
  {
    weight: 2,
    arbitrary: fc
      .tuple(fc.constantFrom(...Object.keys(COMMANDS)), badFile, fc.array(option, { maxLength: 3 }))
      .map(([command, file, options]) => [command, file, ...options]),
  },
  {
    weight: 1,
    arbitrary: fc.array(
      hostileText.filter((word) => word !== '-'),
      { maxLength: 4 },
    ),
  },
);

async function judge(words: readonly string[]): Promise<void> {
  const { code, out, err } = await watchedLater(JSON.stringify(words), () => tell(...words));
  expect([0, 1, 2, 3]).toContain(code);
  if (code !== 0) expect((err + out).trim()).not.toBe('');
  expect(err + out).not.toMatch(OBEYED);
  expect(err.length).toBeLessThan(20_000);
  if (code === 0 && words.includes('--json') && !words.includes('--help')) expect(JSON.parse(out)).toBeTypeOf('object');
}

test('any call ends with a documented code and a sentence', { timeout: PATIENCE }, async () => {
  await fc.assert(fc.asyncProperty(call, judge), share(0.02, 0.03));
});

test('check reads or refuses any file', { timeout: PATIENCE }, async () => {
  const name = at('any.json');
  await fc.assert(
    fc.asyncProperty(designText, async (text) => {
      writeFileSync(name, text);
      await judge(['check', name]);
    }),
    share(0.01),
  );
});

const CIRCUIT: Readonly<Record<string, number | string>> = {
  ...{
    bridge: 'full',
    L1: 6.3e-6,
    C1: 400e-9,
    R1: 0.1,
    Ron: 0.05,
    RC1: 0.01,
    L2: 15e-6,
    Cs: 110e-9,
    R2: 0.2,
    RCs: 0.02,
  },
  ...{ Cd: 1.8e-9, Vd0: 0.11, Rd: 0.05, Vin: 5, k: 0.5, f: 140e3, duty: 1, Idc: 0.4, Crect: 20e-6 },
};

const circuit = fc
  .array(
    fc.tuple(
      fc.constantFrom(...Object.keys(CIRCUIT), '__proto__', 'extra'),
      fc.oneof(
        fc.integer({ min: -4, max: 4 }).map((power) => (now: unknown) => Number(now) * 10 ** power),
        fc.oneof(oddNumber, hostileText, fc.constant(null)).map((value) => (_now: unknown) => value),
      ),
    ),
    { minLength: 1, maxLength: 4 },
  )
  .map((bends) => {
    const bent: Record<string, unknown> = { ...CIRCUIT };
    for (const [key, change] of bends)
      Object.defineProperty(bent, key, {
        value: change(bent[key]),
        enumerable: true,
        configurable: true,
        writable: true,
      });
    return JSON.stringify(bent);
  });

test('circuit solves or refuses any circuit', { timeout: PATIENCE }, async () => {
  const name = at('circuit.json');
  await fc.assert(
    fc.asyncProperty(circuit, async (text) => {
      writeFileSync(name, text);
      await judge(['circuit', name, '--json']);
    }),
    share(0.003, 0.005),
  );
});
