import { describe, expect, test } from 'vitest';
import { windingFaults } from '../../src/design/wind.ts';
import { LEAST, resolved } from './least.ts';

describe('coils that cannot be wound', () => {
  test('are told by the document paths', () => {
    const document = JSON.parse(JSON.stringify(LEAST));
    document.transmitter.coil.turns = 40;
    document.receiver.coil = {
      ...document.receiver.coil,
      outline: {
        shape: 'path',
        pointsMm: [
          [0, 0],
          [20, 20],
          [20, 0],
          [0, 20],
        ],
        pitchMm: 1,
      },
    };
    const paths = windingFaults(resolved(document).design).map((fault) => fault.path);
    expect(paths[0]).toMatch(/^transmitter\.coil\./);
    expect(paths[1]).toBe('receiver.coil.outline.pointsMm');
  });
});
