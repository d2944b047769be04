import { describe, expect, test } from 'vitest';
import { boundsText } from '../../src/cli/commands/bounds.ts';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { parseDesign } from '../../src/design/resolve.ts';
import { fakeBounds } from '../support/fake-rivals.ts';
import { file, tell } from './capture.ts';

const unknowing = {
  ...DEMO_DESIGN,
  transmitter: {
    ...DEMO_DESIGN.transmitter,
    drive: { ...DEMO_DESIGN.transmitter.drive, unknown: ['supply', 'capacitor'] },
  },
};

describe('bounds', () => {
  test('as text: the interval first, the boards at its ends, what was taken, what to find out', () => {
    const parsed = parseDesign(unknowing);
    if (!parsed.ok) throw new Error('the design must resolve');
    const text = boundsText(fakeBounds(parsed.design), parsed.design);
    expect(text.split('\n')[2]).toMatch(/^0\.31 to 1\.20 A here, and a reach of 0\.0 to 14\.2 mm/);
    expect(text).toMatch(/least current +4\.75 V +limited by the link/);
    expect(text).toContain('common practice, no source');
    expect(text).toMatch(/supply voltage +0\.3–1\.2 A/);
  });

  test('a design that knows its boards is refused with where to say otherwise', async () => {
    const told = await tell('bounds', file(DEMO_DESIGN));
    expect(told.code).toBe(1);
    expect(told.err).toContain('transmitter.drive.unknown: must be at least one thing that is not known of a board');
    expect(told.out).toBe('');
  });

  test('check names what is said to be unknown, and refuses what the format does not know', async () => {
    const told = await tell('check', file(unknowing));
    expect(told.code).toBe(0);
    expect(told.out).toContain(
      'Said to be unknown, so that the bands are wide: transmitter supply, transmitter capacitor.',
    );
    const wrong = await tell('check', file(DEMO_DESIGN), '--set', 'receiver.pickup.unknown=["supply"]');
    expect(wrong.code).toBe(1);
    expect(wrong.err).toContain('receiver.pickup.unknown[0]');
  });
});
