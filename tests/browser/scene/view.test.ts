import { describe, expect, test } from 'vitest';
import { userEvent } from 'vitest/browser';
import type { PickId } from '../../../src/scene/types.ts';
import { click, drag, moveTo, until, wheel } from './support/hand.ts';
import { canvas, coppery, countNear, HEIGHT, handle, held, steely, useView, WIDTH } from './support/view.ts';

useView();

describe('the view', () => {
  const at = (): { x: number; y: number } => {
    const box = canvas().getBoundingClientRect();
    return { x: box.left + 30, y: box.top + 30 };
  };
  const anchorX = (): number => held.scene.anchors().find((a) => a.id === 'gap')!.x;

  test('a drag on the paper turns it', async () => {
    // Direction of the receiver's +x in the picture (y down) for a viewer at this azimuth, 33 degrees up.
    const seen = (azimuth: number): number => {
      const across = -Math.sin(azimuth);
      const down = Math.sin((33 * Math.PI) / 180) * Math.cos(azimuth);
      return Math.atan2(down, across);
    };
    const now = (): number => {
      const anchor = held.scene.anchors().find((a) => a.id === 'receiverOuterWidth')!;
      return Math.atan2(anchor.towardY, anchor.towardX);
    };
    const from = (-58 * Math.PI) / 180;
    // The long lens bends directions a little: 2 degrees.
    expect(Math.abs(now() - seen(from))).toBeLessThan(0.035);
    await drag(at(), { x: at().x + 80, y: at().y });
    held.scene.advance(5000);
    // Half a turn for the picture's height, against the hand.
    expect(Math.abs(now() - seen(from - (80 / HEIGHT) * Math.PI))).toBeLessThan(0.035);
    expect(held.drags).toEqual([]);
  });

  test('a right drag moves it', async () => {
    const before = held.scene.anchors().find((a) => a.id === 'gap')!;
    await drag(at(), { x: at().x + 50, y: at().y + 20 }, { button: 'right' }, 10);
    held.scene.advance(5000);
    const after = held.scene.anchors().find((a) => a.id === 'gap')!;
    expect(after.x - before.x).toBeCloseTo(50, -1);
    expect(after.y - before.y).toBeCloseTo(20, -1);
  });

  test('the wheel leaves the page alone until the view has the focus', async () => {
    const before = anchorX();
    await moveTo(at());
    await wheel(at(), -200);
    held.scene.advance(5000);
    expect(anchorX()).toBeCloseTo(before, 6);
    canvas().focus();
    await wheel(at(), -200);
    await until(() => {
      held.scene.advance(5000);
      return anchorX() > before + 10;
    });
  });

  test('by keyboard: arrows turn, Shift moves, plus zooms, T and S look along the axes, 0 resets', async () => {
    canvas().focus();
    const reset = anchorX();
    const steps: [string, boolean][] = [
      ['{ArrowLeft}', true],
      ['0', false],
      ['{Shift>}{ArrowUp}{/Shift}', true],
      ['{Home}', false],
      ['{+}', true],
      ['{-}', false],
    ];
    for (const [keys, moves] of steps) {
      await userEvent.keyboard(keys);
      held.scene.advance(5000);
      const gap = held.scene.anchors().find((a) => a.id === 'gap')!;
      if (!moves) expect(gap.x, keys).toBeCloseTo(reset, 3);
    }
    await userEvent.keyboard('t');
    held.scene.advance(5000);
    const outer = held.scene.anchors().find((a) => a.id === 'receiverOuterWidth')!;
    const height = held.scene.anchors().find((a) => a.id === 'receiverOuterHeight')!;
    expect(outer.towardX).toBeCloseTo(1, 6);
    expect(height.towardY).toBeCloseTo(1, 6);
    expect(held.scene.anchors().find((a) => a.id === 'gap')!.visible).toBe(false);
    await userEvent.keyboard('s');
    held.scene.advance(5000);
    const side = held.scene.anchors().find((a) => a.id === 'gap')!;
    expect(side.visible).toBe(true);
    expect(side.towardX).toBeCloseTo(1, 6);
    expect(held.drags).toEqual([]);
  });

  test('the cut turns towards the viewer', async () => {
    for (let i = 0; i < 4; i++) {
      held.scene.advance(5000);
      expect(countNear(steely), `quarter ${i}`).toBeGreaterThan(1200);
      held.scene.orbit(Math.PI / 2, 0);
    }
  });

  test('from below the receiver is whole and the transmitter cut', () => {
    held.scene.orbit(0, (-75 * Math.PI) / 180);
    held.scene.advance(5000);
    expect(countNear(coppery)).toBeGreaterThan(1000);
  });

  test('picking returns ids', () => {
    const { left, top } = canvas().getBoundingClientRect();
    const under = (id: string): PickId | null => {
      const anchor = held.scene.anchors().find((a) => a.id === id)!;
      return held.scene.pick(left + anchor.x - 4 * anchor.towardX, top + anchor.y - 4 * anchor.towardY);
    };
    expect(under('transmitterOuter')).toMatchObject({ kind: 'winding', side: 'transmitter' });
    expect(under('receiverOuterWidth')).toMatchObject({ kind: 'winding', side: 'receiver' });
    expect(held.scene.pick(left + WIDTH / 2, top + HEIGHT * 0.38)).toMatchObject({ kind: 'metal', side: 'receiver' });
    expect(held.scene.pick(left + 3, top + 3)).toBeNull();
  });

  test('a click on a coil shows all its numbers, a click on the paper none', async () => {
    const picked: unknown[] = [];
    held.scene.on('select', (side) => picked.push(side));
    const shown = (): string[] =>
      held.scene
        .anchors()
        .filter((a) => a.visible)
        .map((a) => a.id);
    expect(shown().sort()).toEqual(['gap', 'receiverOuterHeight', 'receiverOuterWidth', 'transmitterOuter']);
    const { left, top } = canvas().getBoundingClientRect();
    const anchor = held.scene.anchors().find((a) => a.id === 'transmitterOuter')!;
    await click({ x: left + anchor.x - 24 * anchor.towardX, y: top + anchor.y - 24 * anchor.towardY });
    held.scene.advance(16);
    expect(picked).toEqual(['transmitter']);
    expect(shown()).toContain('transmitterInner');
    expect(shown()).toContain('transmitterTurns');
    await click(at());
    held.scene.advance(16);
    expect(picked).toEqual(['transmitter', null]);
    expect(shown()).not.toContain('transmitterInner');
  });

  test('hovering a coil tells what it is and offers its handles', async () => {
    const told: (PickId | null)[] = [];
    held.scene.on('hover', (pick) => told.push(pick));
    const { left, top } = canvas().getBoundingClientRect();
    const anchor = held.scene.anchors().find((a) => a.id === 'transmitterOuter')!;
    await moveTo({ x: left + 5, y: top + 5 });
    await new Promise((resolve) => setTimeout(resolve, 60));
    await moveTo({ x: left + anchor.x - 24 * anchor.towardX, y: top + anchor.y - 24 * anchor.towardY });
    await until(() => told.length > 0);
    expect(told.at(-1)).toMatchObject({ kind: 'winding', side: 'transmitter' });
    held.scene.advance(16);
    expect(handle('transmitterInner').classList.contains('aside')).toBe(false);
    expect(handle('receiverInnerWidth').classList.contains('aside')).toBe(true);
  });
});
