import { expect, test } from 'vitest';
import { guessAt, guessedValues } from '../../src/design/guess.ts';
import { LEAST, resolved } from './least.ts';

test('a guess has a width; a given value has none', () => {
  const { design } = resolved(LEAST);
  const guessed = new Map(guessedValues(design).map((entry) => [entry.path, entry]));
  expect(guessed.get('receiver.pickup.wakeV')).toMatchObject({ value: 4, halfWidth: 1 });
  expect(guessed.get('transmitter.drive.switchResistanceOhm')?.halfWidth).toBeCloseTo(0.03, 12);
  expect(guessed.has('transmitter.drive.supplyV')).toBe(false);
  expect(guessed.has('placement.offsetXMm')).toBe(false);
  expect(guessAt('no.such.key')).toBeNull();
  expect(guessAt('receiver.ferrite.relativePermeability')).toEqual({ relative: 0.6 });
});
