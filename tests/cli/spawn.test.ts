import { spawn, spawnSync } from 'node:child_process';
import { basename, dirname } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { file } from './capture.ts';

// A call builds first where a source changed meanwhile.
vi.setConfig({ testTimeout: 120_000 });

const root = fileURLToPath(new URL('../../', import.meta.url));
const launcher = fileURLToPath(new URL('../../src/cli/offcentre.mjs', import.meta.url));

function call(words: string[], input?: string) {
  const result = spawnSync(process.execPath, [launcher, ...words], { cwd: root, encoding: 'utf8', input });
  return { code: result.status, out: result.stdout, err: result.stderr };
}

const demo = file(DEMO_DESIGN);

describe('the built command line', () => {
  // Builds it where it is older than its sources, so that the tests below see the current one.
  beforeAll(() => {
    expect(call(['--help']).code).toBe(0);
  }, 120_000);

  test('starts in under a second (best of five: other work on the machine is not its fault)', () => {
    const times = Array.from({ length: 5 }, () => {
      const start = performance.now();
      expect(call(['check', demo]).code).toBe(0);
      return performance.now() - start;
    });
    expect(Math.min(...times)).toBeLessThan(1000);
  }, 60_000);

  test.each<[string[], number]>([
    [['--help'], 0],
    [['check', demo], 0],
    [['check', file('{')], 1],
    [['check', 'no-such-file.json'], 1],
    [['check', root], 1],
    [['check'], 2],
    [['chekc', demo], 2],
    [['check', demo, '--set', 'transmitter.coil.turns=0'], 1],
  ])('%j exits %d', (words, code) => {
    expect(call(words).code).toBe(code);
  });

  test('reads a design from standard input', () => {
    expect(call(['check', '-'], JSON.stringify(DEMO_DESIGN)).code).toBe(0);
    expect(call(['check', '-'], '').err).toMatch(/an empty file/);
  });

  test.runIf(process.platform === 'linux')('refuses a device that never ends', () => {
    expect(call(['check', '/dev/zero'])).toMatchObject({ code: 1, err: '/dev/zero: it is a device, not a file.\n' });
  });

  test.runIf(process.platform === 'linux')('a place where no directory can be made ends in a sentence', () => {
    const words = [launcher, 'demo', '--out', '/proc/nowhere/below'];
    const result = spawnSync(process.execPath, words, { cwd: root, encoding: 'utf8', timeout: 20_000 });
    expect(result.stderr).toBe('/proc/nowhere/below: it cannot be made there.\n');
    expect(result.status).toBe(1);
  });

  test('file names are meant from where the user stands, not from the project folder', () => {
    const words = ['run', '--silent', '--prefix', root, 'offcentre', '--', 'check', basename(demo)];
    const result = spawnSync('npm', words, {
      cwd: dirname(demo),
      encoding: 'utf8',
      shell: process.platform === 'win32',
    });
    expect(result.stderr).toBe('');
    expect(result.status).toBe(0);
  });

  test('--json prints one object and nothing else', () => {
    const told = call(['check', demo, '--json']);
    expect(JSON.parse(told.out).ok).toBe(true);
    expect(told.err).toBe('');
  });

  test('a reader that closes early is no error', async () => {
    const child = spawn(process.execPath, [launcher, 'schema'], { cwd: root });
    let err = '';
    child.stderr.on('data', (chunk) => {
      err += chunk;
    });
    child.stdout.once('data', () => child.stdout.destroy());
    const code = await new Promise((resolve) => child.on('close', resolve));
    expect(err).toBe('');
    expect(code).toBe(0);
  });
});
