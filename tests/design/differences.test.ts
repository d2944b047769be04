import { describe, expect, it } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { differences } from '../../src/design/differences.ts';
import { parsePath } from '../../src/design/path.ts';
import type { DesignDocument } from '../../src/design/schema.ts';
import { STARTING_POINTS } from '../../src/design/starting-points.ts';
import { withPath } from '../../src/state/commands/set-value.ts';
import { takeOver } from '../../src/state/commands/take-over.ts';
import { resolveDocument } from '../../src/state/resolved-design.ts';

const changed = (path: string, value: unknown): DesignDocument => {
  const parsed = parsePath(path);
  if (!parsed.ok) throw new Error(path);
  return withPath(DEMO_DESIGN, parsed.segments, value);
};

describe('differences of two designs', () => {
  it('are none between a design and its copy, or one with another title', () => {
    expect(differences(DEMO_DESIGN, structuredClone(DEMO_DESIGN))).toEqual([]);
    expect(differences(DEMO_DESIGN, { ...DEMO_DESIGN, title: 'other', notes: 'x', readings: [] })).toEqual([]);
  });

  it('say what, with unit, and what stands on each side', () => {
    const [one, ...more] = differences(DEMO_DESIGN, changed('transmitter.drive.supplyV', 9));
    expect(more).toEqual([]);
    expect(one).toMatchObject({ path: 'transmitter.drive.supplyV', here: '5 V', there: '9 V', value: 9 });
    expect(one?.words).toMatch(/^transmitter, .*supply/);
  });

  it('take a thing of another kind as a whole', () => {
    const other = { shape: 'stadium', outerWidthMm: 46, outerHeightMm: 33, innerWidthMm: 28, innerHeightMm: 15 };
    const found = differences(DEMO_DESIGN, changed('receiver.coil.outline', other));
    expect(found.map(({ path }) => path)).toEqual(['receiver.coil.outline']);
    expect(found[0]).toMatchObject({
      here: 'rounded rectangle, outer width 46 mm, outer height 33 mm, inner width 28 mm',
      there: 'stadium, outer width 46 mm, outer height 33 mm, inner width 28 mm',
    });
  });

  it('see what one side leaves out', () => {
    const found = differences(DEMO_DESIGN, changed('receiver.metal', null));
    expect(found).toMatchObject([
      {
        path: 'receiver.metal',
        here: "thickness 0.5 mm, clear distance from the ferrite's back 1 mm, conductivity 36 MS/m",
        there: 'none',
      },
    ]);
    expect(differences({ ...DEMO_DESIGN, placement: {} }, changed('placement.yawDeg', 4))).toContainEqual(
      expect.objectContaining({ path: 'placement.yawDeg', here: '0° by default', there: '4°' }),
    );
  });

  it('names the fields of what one side leaves out whole, and leaves out what means nothing', () => {
    const { placement: _, ...without } = DEMO_DESIGN;
    const placed = { ...without, placement: { offsetXMm: 3, offsetYMm: 0 } };
    expect(differences(placed, without)).toEqual([
      expect.objectContaining({ path: 'placement.offsetXMm', here: '3 mm', there: '0 mm by default' }),
    ]);
    expect(takeOver.perform(placed, { path: 'placement.offsetXMm', from: without, words: '' }).placement).toEqual({
      offsetYMm: 0,
    });
  });

  it('call things as a person would', () => {
    const words = (path: string, value: unknown) => differences(DEMO_DESIGN, changed(path, value)).map((d) => d.words);
    expect(words('receiver.coil.turns', 12)).toEqual(['receiver, turns in all']);
    expect(words('demand.loads[2].currentA', 0.2)).toEqual(['charging, current']);
    expect(words('demand.loads[2].through[1].capacityAh', 2)).toEqual(['charging\u2019s cell, capacity']);
    const [stack] = differences(DEMO_DESIGN, changed('stack', DEMO_DESIGN.stack?.slice(0, 2)));
    expect(stack).toMatchObject({ here: 'oak, felt, case wall, air', there: 'oak, felt' });
  });

  it('leave a design that holds together where one layer is taken over', () => {
    const thin = { ...DEMO_DESIGN, stack: DEMO_DESIGN.stack?.map((l, i) => (i === 0 ? { ...l, thicknessMm: 3 } : l)) };
    const other = { ...thin, placement: { ...DEMO_DESIGN.placement, gapMm: 4.9 } } as DesignDocument;
    const [one, ...more] = differences(DEMO_DESIGN, other);
    expect(more).toEqual([]);
    expect(one).toMatchObject({ path: 'stack[0].thicknessMm', words: 'oak, thickness' });
    const taken = takeOver.perform(DEMO_DESIGN, { path: one!.path, from: other, words: one!.words });
    expect(resolveDocument(taken)).toMatchObject({ ok: true, resolved: { design: { placement: { gapMm: 4.9 } } } });
  });

  it('taken over one by one lead from each starting point to every other', () => {
    const all = [DEMO_DESIGN, ...STARTING_POINTS.map(({ document }) => document)];
    for (const from of all) {
      for (const to of all) {
        let here = from;
        for (const { path, words } of differences(from, to)) here = takeOver.perform(here, { path, from: to, words });
        expect(differences(here, to)).toEqual([]);
        expect(resolveDocument(here)).toMatchObject({ ok: true });
      }
    }
  });
});
