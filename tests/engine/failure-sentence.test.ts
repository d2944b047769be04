import { expect, test } from 'vitest';
import { failureSentence, isOutOfMemory, uncaughtSentence } from '../../src/engine/failure-sentence.ts';

/** What an engine says when it really cannot have what is asked. */
function thrownBy(act: () => unknown): unknown {
  try {
    act();
  } catch (error) {
    return error;
  }
  throw new Error('nothing was thrown');
}

test.each([
  ['an array too long', () => new Float64Array(2 ** 53 - 1)],
  ['a buffer too large', () => new ArrayBuffer(2 ** 53 - 1)],
  ['a plain array too long', () => new Array(2 ** 32)],
  ['a WebAssembly memory that may not grow', () => new WebAssembly.Memory({ initial: 1, maximum: 1 }).grow(1)],
])('%s is told as missing memory', (_, act) => {
  const error = thrownBy(act);
  expect(isOutOfMemory(error)).toBe(true);
  expect(failureSentence(error)).toMatch(/^There was not enough memory .* Your design is untouched;/);
});

test('other range errors are not', () => {
  const deep = (): number => 1 + deep();
  for (const act of [deep, () => 'x'.repeat(-1), () => (1).toFixed(200)]) {
    expect(isOutOfMemory(thrownBy(act))).toBe(false);
  }
  expect(isOutOfMemory('out of memory')).toBe(false);
});

test.each([
  // As Chromium, Firefox and Safari say it; from memory.
  'Failed to fetch dynamically imported module: https://page.test/assets/fit-1a.js',
  'error loading dynamically imported module: https://page.test/assets/fit-1a.js',
  'Importing a module script failed.',
])('a part that cannot be fetched is told without its address (%s)', (message) => {
  const told = failureSentence(new TypeError(message));
  expect(told).toMatch(/could not be fetched/);
  expect(told).not.toMatch(/http/);
});

test('anything else is one line, with enough to report it by', () => {
  const told = failureSentence(new TypeError(`x is not a function\n    at deep (file.js:1:2)\n${'y'.repeat(500)}`));
  expect(told).toMatch(/^A fault of the program stopped this calculation \(TypeError: x is not a function\)\. /);
  expect(told).not.toMatch(/file\.js|\n/);
  expect(failureSentence('odd')).toContain('(odd)');
});

test('of what nobody caught only real errors are told', () => {
  expect(uncaughtSentence(new TypeError('x is not a function'))).toMatch(
    /\(TypeError: x is not a function\)\. Your work is kept;/,
  );
  expect(uncaughtSentence(new TypeError('Importing a module script failed.'))).toMatch(/could not be fetched/);
  // A notification of the browser about its own observers comes without an error; what was stopped was stopped on purpose.
  expect(uncaughtSentence(undefined)).toBeNull();
  expect(uncaughtSentence(new DOMException('stopped', 'AbortError'))).toBeNull();
});
