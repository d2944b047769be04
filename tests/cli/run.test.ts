import { readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { COMMANDS } from '../../src/cli/commands.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { LEAST } from '../design/least.ts';
import { file, freshDirectory, tell } from './capture.ts';

// The first use of a command compiles what it imports, which takes seconds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const demo = file(DEMO_DESIGN);

function broken(...changes: [string, unknown][]): string {
  const document = JSON.parse(JSON.stringify(DEMO_DESIGN));
  for (const [path, value] of changes) {
    const keys = path.split('.');
    const parent = keys.slice(0, -1).reduce((node, key) => node[key], document);
    parent[keys[keys.length - 1]] = value;
  }
  return file(document);
}

describe('help', () => {
  test('names every command', async () => {
    const { code, out } = await tell('--help');
    expect(code).toBe(0);
    for (const name of Object.keys(COMMANDS)) expect(out).toContain(`  ${name} `);
    expect((await tell('help')).out).toBe(out);
    expect((await tell()).code).toBe(2);
  });

  test.each(Object.keys(COMMANDS))('%s explains its options', async (name) => {
    const { code, out } = await tell(name, '--help');
    expect(code).toBe(0);
    for (const option of Object.keys(COMMANDS[name].options)) expect(out).toContain(`--${option}`);
    expect((await tell('help', name)).out).toBe(out);
  });
});

describe('wrong usage: exit 2, one line and a pointer', () => {
  test.each<[string[], RegExp]>([
    [['slove', demo], /^Unknown command "slove"\. Did you mean solve\?$/],
    [['frobnicate'], /^Unknown command "frobnicate"\. Commands: check, solve, /],
    [['--json'], /^The command comes first; received "--json"\.$/],
    [['check'], /^The command check needs a file: check DESIGN\.json\.$/],
    [['check', demo, demo], /^The command check takes one file; ".*" is too many\.$/],
    [['demo', demo], /^The command demo takes no file;/],
    [['check', demo, '--jsn'], /^Unknown option --jsn\. Did you mean --json\?$/],
    [['check', demo, '--points', '3'], /^Unknown option --points\. Options: --json, --set, --help\.$/],
    [['check', demo, '-x'], /^Unknown option --x\. /],
    [['check', demo, '--json=yes'], /^Option --json takes no value\.$/],
    [['check', demo, '--set'], /^Option --set needs PATH=VALUE: /],
    [['check', demo, '--set', 'supplyV'], /^Option --set needs PATH=VALUE, for example .*; received "supplyV"\.$/],
    [['check', demo, '--set', '=3'], /^Option --set needs PATH=VALUE/],
    [['check', demo, '--set', 'a b=3'], /^Option --set needs PATH=VALUE/],
    [['check', demo, '--json', '--json'], /^Option --json was given twice\.$/],
    [['map', demo, '--points', 'many'], /^Option --points must be a whole number from 3 to 1025; received "many"\.$/],
    [['map', demo, '--points', '2.5'], /^Option --points must be a whole number/],
    [['map', demo, '--points', '1e9'], /^Option --points must be a whole number/],
    [['map', demo, '--span', '-3'], /^Option --span must be a number from 0\.1 to 1000 mm; received "-3"\.$/],
    [
      ['along', demo, '--axis', 'offsetx'],
      /^Option --axis must be one of gap, .*; received "offsetx"\. Did you mean offsetX\?$/,
    ],
    [
      ['along', demo, '--axis', 'gap', '--from', '0'],
      /^Option --from must be a number from 0\.05 to 1000 mm; received "0"\.$/,
    ],
    [['along', demo, '--from', '20'], /^Option --from \(20\) must be less than --to \(17\.7 by default\)\.$/],
    [['along', demo, '--to', '1'], /^Option --from \(1\.967 by default\) must be less than --to \(1\)\.$/],
    [['along', demo, '--from', '9', '--to', '3'], /^Option --from \(9\) must be less than --to \(3\)\.$/],
  ])('%j', async (words, line) => {
    const told = await tell(...words);
    expect(told.lines[0]).toMatch(line);
    expect(told.code).toBe(2);
    expect(told.lines).toHaveLength(2);
    expect(told.out).toBe('');
  });
});

describe('wrong files: exit 1, one line a fault', () => {
  test.each<[string, string, number, RegExp]>([
    ['missing', join(tmpdir(), 'no-such-file-here.json'), 1, /no-such-file-here\.json: there is no such file\.$/],
    ['directory', tmpdir(), 1, /: it is a directory\.$/],
    ['empty', file(''), 1, /^design: must be a JSON object; received an empty file\.$/],
    [
      'broken',
      file('{"format": }'),
      1,
      /^design: must be JSON: a value is expected at line 1, column 12; received "}"\.$/,
    ],
    ['another file', file({ name: 'x' }), 1, /^format: must be "offcentre-design"; received nothing\./],
    ['newer', file({ ...DEMO_DESIGN, version: 9 }), 1, /^version: must be 1 or older; received 9\./],
    [
      'one fault',
      broken(['transmitter.coil.turns', 0]),
      1,
      /^transmitter\.coil\.turns: must be a number from 1 to 200 turns; received 0 turns\.$/,
    ],
    ['three faults', broken(['transmitter.coil.turns', 0], ['title', 3], ['extra', 1]), 3, /^title: must be text/],
    ['not windable', broken(['transmitter.coil.turns', 30]), 1, /^transmitter\.coil\./],
    ['bad circuit', file({ bridge: 'ful' }), 19, /^/],
  ])('%s', async (name, path, count, first) => {
    const told = await tell(name === 'bad circuit' ? 'circuit' : 'check', path);
    expect(told.code).toBe(1);
    expect(told.lines[0]).toMatch(first);
    expect(told.out).toBe('');
    if (name !== 'bad circuit') expect(told.lines).toHaveLength(count);
    else expect(told.lines.length).toBeLessThanOrEqual(20);
  });

  test('a file in another encoding is refused: its letters would be lost without a word', async () => {
    const text = JSON.stringify({ ...DEMO_DESIGN, title: 'Größe' });
    const name = file('');
    for (const bytes of [Buffer.from(text, 'latin1'), Buffer.from(`\ufeff${text}`, 'utf16le')]) {
      writeFileSync(name, bytes);
      expect((await tell('check', name)).lines).toEqual([`${name}: it is no text in UTF-8; save it as UTF-8.`]);
    }
    writeFileSync(name, `\ufeff${text}`);
    expect((await tell('check', name)).out).toMatch(/^Größe: the design is sound/);
  });

  test('more than twenty faults are counted, not listed', async () => {
    const stack = Array.from({ length: 30 }, () => ({ name: '', thicknessMm: -1 }));
    const told = await tell('check', broken(['stack', stack]));
    expect(told.code).toBe(1);
    expect(told.lines).toHaveLength(20);
    expect(told.lines[19]).toBe('... and 41 more faults.');
  });

  test('exactly twenty are all listed', async () => {
    const told = await tell(
      'check',
      broken(['stack', Array.from({ length: 20 }, () => ({ name: 'x', thicknessMm: -1 }))]),
    );
    expect(told.lines).toHaveLength(20);
    expect(told.lines[19]).toMatch(/^stack\[19\]/);
  });

  test('with --json all faults stand in one object on standard output', async () => {
    const stack = Array.from({ length: 30 }, () => ({ name: '', thicknessMm: -1 }));
    const told = await tell('check', broken(['stack', stack]), '--json');
    const answer = JSON.parse(told.out);
    expect(answer.ok).toBe(false);
    expect(answer.faults).toHaveLength(60);
    expect(answer.faults[1]).toEqual({
      code: 'out-of-range',
      path: 'stack[0].thicknessMm',
      required: 'a number from 0 to 1000 mm',
      received: '-1 mm',
    });
  });

  test('no file content breaks the terminal or the line count (seed 71)', async () => {
    const text = JSON.stringify(DEMO_DESIGN);
    await fc.assert(
      fc.asyncProperty(fc.nat(text.length - 1), fc.string({ unit: 'binary', maxLength: 12 }), async (at, insert) => {
        const told = await tell('check', file(text.slice(0, at) + insert + text.slice(at + 3)));
        expect([0, 1]).toContain(told.code);
        if (told.code === 1) {
          expect(told.lines.length).toBeGreaterThan(0);
          expect(told.lines.length).toBeLessThanOrEqual(20);
          expect(told.err).not.toMatch(/[^\P{Cc}\n]|\u202e|undefined/u);
        }
      }),
      { seed: 71, numRuns: 60 },
    );
  }, 60_000);
});

describe('--set', () => {
  test.each<[string, RegExp]>([
    ['transmitter.drive.supplyV=9', /sound/],
    ['transmitter.drive.supplyV=9 V', /sound/],
    ['transmitter.drive.supplyV=9000 mV', /sound/],
    ['receiver.pickup.seriesCapacitanceNf=0.11 uF', /sound/],
    ['transmitter.drive.control=supply', /sound/],
    ['title=7', /^7: the design is sound/],
    ['title="Seven"', /^Seven: the design is sound/],
    ['title=a=b', /^a=b: the design is sound/],
    ['receiver.metal=null', /sound/],
    ['stack[4]={"name":"tape","thicknessMm":0.004}', /sound/],
    ['demand.loads[1].alongside=[]', /480 mA: playing/],
    ['readings=[{"supplyV":5}]', /sound/],
  ])('%s', async (setting, wanted) => {
    const told = await tell('check', demo, '--set', setting);
    expect(told.err).toBe('');
    expect(told.out).toMatch(wanted);
    expect(told.code).toBe(0);
  });

  test.each<[string, string]>([
    [
      'transmitter.coil.tunrs=3',
      'transmitter.coil.tunrs: must be a key that the design format knows; received "tunrs". Did you mean turns?',
    ],
    ['stack[7].thicknessMm=3', 'stack[7]: must be an entry from [0] to [3], or [4] to add one; received [7].'],
    [
      'transmitter.drive.supplyV=3 mm',
      'transmitter.drive.supplyV: must be a number from 0.5 to 60 V; received "3 mm". Write the number alone, without quotes: its unit is the key\'s.',
    ],
    ['transmitter.drive.supplyV=90', 'transmitter.drive.supplyV: must be a number from 0.5 to 60 V; received 90 V.'],
    [
      'transmitter.drive.bridge=ful',
      'transmitter.drive.bridge: must be one of "full", "half"; received "ful". Did you mean "full"?',
    ],
    [
      'stack=[{"name":"a","thicknessMm":4}',
      'stack: must be JSON: "," or "]" is expected at line 1, column 30; received the end of the file.',
    ],
    [
      'transmitter.drive.unknown=[supply]',
      'transmitter.drive.unknown: must be JSON: a value is expected at line 1, column 2; received "supply]".',
    ],
    [
      'stack=[{"name":"a","name":"b","thicknessMm":4}]',
      'stack: must be given once; received the key twice in one object.',
    ],
    [
      'supplyV=9',
      'supplyV: must be a key that the design format knows; received "supplyV". Did you mean transmitter.drive.supplyV?',
    ],
    ['gapMm=4', 'gapMm: must be a key that the design format knows; received "gapMm". Did you mean placement.gapMm?'],
    ['zzz=4', 'zzz: must be a key that the design format knows; received "zzz".'],
    [
      'placement.gapMm=8',
      'placement.gapMm: must be the sum of the stack, 5.9 mm, within 0.01 mm; received 8 mm. Leave gapMm out, or change the layers, or leave the stack out.',
    ],
  ])('%s is a fault', async (setting, line) => {
    const told = await tell('check', demo, '--set', setting);
    expect(told.code).toBe(1);
    expect(told.lines).toEqual([line]);
  });

  test('is applied in order', async () => {
    const told = await tell('check', demo, '--set', 'stack=[]', '--set', 'placement.gapMm=8', '--json');
    expect(JSON.parse(told.out).gapMm).toBe(8);
  });
});

describe('check', () => {
  test('lists the defaults a sparse design takes, with what they may be off', async () => {
    const document = JSON.parse(JSON.stringify(DEMO_DESIGN));
    delete document.receiver.pickup.wakeV;
    delete document.transmitter.coil.layerPitchMm;
    const told = await tell('check', file(document));
    expect(told.code).toBe(0);
    expect(told.out).toMatch(/receiver\.pickup\.wakeV\s+4 V\s+± 1 V/);
    expect(told.out).toMatch(/transmitter\.coil\.layerPitchMm\s+1\.1 mm\s+± 30 %/);
    const answer = JSON.parse((await tell('check', file(document), '--json')).out);
    expect(answer.ok).toBe(true);
    expect(answer.demand.demandA).toBeCloseTo(0.78, 12);
    expect(answer.defaultsTaken).toContainEqual({
      path: 'receiver.pickup.wakeV',
      value: 4,
      unit: 'V',
      label: 'rectified voltage at which the receiver wakes',
      mayBeOff: '± 1 V',
    });
  });
});

describe('check of a coil wound nearly to its centre', () => {
  test('warns that closed rings are a poor picture of it', async () => {
    const coil = (innerDiameterMm: number) =>
      broken([
        'transmitter.coil',
        {
          outline: { shape: 'circle', outerDiameterMm: 44, innerDiameterMm },
          turns: 10,
          conductor: { kind: 'litz', strands: 105, strandDiameterMm: 0.08, bundleDiameterMm: 1.1 },
        },
      ]);
    const told = await tell('check', coil(3));
    expect(told.out).toMatch(/Beware: transmitter\.coil: This coil is wound nearly to its centre/);
    expect(JSON.parse((await tell('check', coil(3), '--json')).out).warnings).toHaveLength(1);
    expect((await tell('check', coil(20.5))).out).not.toMatch(/Beware/);
  });
});

describe('demo and schema', () => {
  test('the demo that is printed is sound', async () => {
    const told = await tell('demo');
    expect(JSON.parse(told.out)).toEqual(DEMO_DESIGN);
    expect((await tell('check', file(told.out))).code).toBe(0);
  });

  test('--out makes the directory and writes there', async () => {
    const directory = freshDirectory();
    const told = await tell('demo', '--out', directory, '--json');
    expect(JSON.parse(told.out).written).toEqual([join(directory, 'demo.json')]);
    expect(JSON.parse(readFileSync(join(directory, 'demo.json'), 'utf8'))).toEqual(DEMO_DESIGN);
    expect((await tell('schema', '--out', directory)).out).toMatch(/^Wrote .*offcentre-design\.schema\.json\n$/);
  });

  test.each(['solve', 'along', 'map', 'hold', 'fit'])(
    '%s looks at its place before it works: nothing is lost to one that takes no files',
    async (command) => {
      const began = process.cpuUsage();
      const told = await tell(command, demo, '--out', join(demo, 'below'));
      expect(told.lines).toEqual([`${join(demo, 'below')}: a part of its path is no directory.`]);
      expect(told.code).toBe(1);
      expect(told.out).toBe('');
      const { user, system } = process.cpuUsage(began);
      expect(user + system).toBeLessThan(1e6);
      expect((await tell(command, demo, '--out', ' ')).lines[0]).toMatch(/^Option --out needs the name of a directory/);
    },
  );

  test('with --json a file that cannot be used is told as an object too', async () => {
    for (const words of [
      ['check', 'no-such-file.json', '--json'],
      ['solve', demo, '--json', '--out', join(demo, 'below')],
      ['hold', demo, '--placements', 'no-such-file.csv', '--json'],
    ]) {
      const told = await tell(...words);
      expect(told.code).toBe(1);
      expect(JSON.parse(told.out)).toMatchObject({ ok: false, faults: [{ code: 'unusable-file' }] });
    }
  });

  test('a place that cannot be written is one line', async () => {
    const told = await tell('demo', '--out', join(demo, 'below'));
    expect(told.code).toBe(1);
    expect(told.lines).toHaveLength(1);
    expect(told.lines[0]).toMatch(/no directory|stands in the way/);
  });

  test('the schema is one JSON object with and without --json', async () => {
    const told = await tell('schema');
    expect(JSON.parse(told.out).title).toBe('offcentre-design, version 1');
    expect((await tell('schema', '--json')).out).toBe(told.out);
  });
});

describe('along', () => {
  test('a pose that cannot be has no numbers and no state, and the table says why', async () => {
    const ferrite = { outline: { shape: 'circle', outerDiameterMm: 44 }, thicknessMm: 1 };
    const backed = file({ ...LEAST, transmitter: { ...LEAST.transmitter, ferrite } });
    const words = ['along', backed, '--axis', 'tiltX', '--from', '-60', '--to', '60', '--points', '2'];
    const told = await tell(...words);
    expect(told.code).toBe(0);
    expect(told.out).toMatch(/−60\.0° +– +– +– +– +none\n/);
    expect(told.out).toMatch(/ {2}none: transmitter and receiver would touch there/);
    expect(told.out).not.toContain('NaN');
    const line = JSON.parse((await tell(...words, '--json')).out);
    expect(line.states).toEqual([null, null]);
    expect(line.marginPercent).toEqual([null, null]);
  });
});
