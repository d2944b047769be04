import { describe, expect, test } from 'vitest';
import { userEvent } from 'vitest/browser';
import { drag, letGo, middle, moveTo, press, pull, until } from './support/hand.ts';
import { canvas, handle, held, root, useView } from './support/view.ts';

useView();

describe('handles by pointer', () => {
  test('the centre ring moves the receiver in the plane, on whole millimetres', async () => {
    const from = middle(handle('offset'));
    await drag(from, { x: from.x + 70, y: from.y + 10 });
    expect(held.grabs).toBe(1);
    expect(held.drags.length).toBeGreaterThan(1);
    expect(held.releases).toEqual([{ handle: 'offset', cancelled: false }]);
    const { x, y } = held.data.pose;
    expect(x).toBeGreaterThan(0.004);
    expect(Math.abs(x * 1e3 - Math.round(x * 1e3))).toBeLessThan(1e-9);
    expect(Math.abs(y * 1e3 - Math.round(y * 1e3))).toBeLessThan(1e-9);
    expect(held.drags.every((d) => d.snapped && d.by === 'pointer')).toBe(true);
    // The ring follows the hand to within half a snap.
    held.scene.advance(0);
    const now = middle(handle('offset'));
    expect(Math.hypot(now.x - from.x - 70, now.y - from.y - 10)).toBeLessThan(12);
  });

  test('with Shift it goes anywhere, to a hundredth of a millimetre', async () => {
    const from = middle(handle('offset'));
    await drag(from, { x: from.x + 33, y: from.y - 5 }, { shift: true });
    const { x, y } = held.data.pose;
    expect(held.drags.every((d) => !d.snapped)).toBe(true);
    expect(Math.abs(x * 1e5 - Math.round(x * 1e5))).toBeLessThan(1e-6);
    expect(Math.abs(x * 1e3 - Math.round(x * 1e3)) + Math.abs(y * 1e3 - Math.round(y * 1e3))).toBeGreaterThan(0.01);
    held.scene.advance(0);
    const now = middle(handle('offset'));
    expect(Math.hypot(now.x - from.x - 33, now.y - from.y + 5)).toBeLessThan(1);
  });

  test('gap, yaw and tilt follow their own directions', async () => {
    const gap = middle(handle('gap'));
    await drag(gap, { x: gap.x, y: gap.y - 40 });
    const gaps = held.drags.map((d) => (d.change.handle === 'gap' ? d.change.value : Number.NaN));
    expect(gaps.at(-1)).toBeGreaterThan(0.008);
    held.scene.advance(0);
    const yaw = middle(handle('yaw'));
    await drag(yaw, { x: yaw.x + 60, y: yaw.y + 12 });
    expect(held.data.pose.yaw).toBeGreaterThan(0.1);
    expect((held.data.pose.yaw * 36) / Math.PI).toBeCloseTo(Math.round((held.data.pose.yaw * 36) / Math.PI), 9);
    held.scene.advance(0);
    const tilt = middle(handle('tiltY'));
    await drag(tilt, { x: tilt.x, y: tilt.y - 40 });
    // The handle on the left lifts -x: a positive tilt about y.
    expect(held.data.pose.tiltY).toBeGreaterThan(0.05);
    held.scene.advance(0);
    const other = middle(handle('tiltX'));
    await drag(other, { x: other.x, y: other.y - 40 });
    expect(held.data.pose.tiltX).toBeGreaterThan(0.05);
  });

  test('the outer diameter is pulled at the edge; both edges move, so the value changes twice as fast', async () => {
    const from = middle(handle('transmitterOuter'));
    await drag(from, { x: from.x, y: from.y + 30 });
    const last = held.drags.at(-1)!.change;
    expect(last.handle).toBe('transmitterOuter');
    expect(last.handle === 'transmitterOuter' && last.value).toBeGreaterThan(0.05);
  });

  test('a drag during which the drawing is taken away ends where it stands', async () => {
    const from = middle(handle('offset'));
    await moveTo(from);
    await press(from);
    await pull({ x: from.x + 60, y: from.y });
    const { x } = held.data.pose;
    expect(x).not.toBe(0);
    const lose = canvas().getContext('webgl2')!.getExtension('WEBGL_lose_context')!;
    lose.loseContext();
    await until(() => held.scene.lost);
    expect(held.releases).toEqual([{ handle: 'offset', cancelled: false }]);
    await pull({ x: from.x + 90, y: from.y });
    await letGo(from);
    expect(held.data.pose.x).toBe(x);
    expect(held.releases).toHaveLength(1);
    lose.restoreContext();
    await until(() => !held.scene.lost);
  });

  test('Escape takes a drag back', async () => {
    const from = middle(handle('offset'));
    await moveTo(from);
    await press(from);
    await pull({ x: from.x + 60, y: from.y });
    expect(held.data.pose.x).not.toBe(0);
    await userEvent.keyboard('{Escape}');
    expect(held.data.pose.x).toBe(0);
    expect(held.releases).toEqual([{ handle: 'offset', cancelled: true }]);
    await pull({ x: from.x + 90, y: from.y });
    expect(held.data.pose.x).toBe(0);
    await letGo(from);
    expect(held.releases).toHaveLength(1);
  });

  test('a press without a move changes nothing, on a mark or not', async () => {
    held.data = { ...held.data, pose: { ...held.data.pose, x: 0.00314 } };
    held.scene.update(held.data);
    held.scene.advance(0);
    const from = middle(handle('offset'));
    await moveTo(from);
    await press(from);
    await letGo(from);
    expect(held.drags).toEqual([]);
    expect(held.releases).toHaveLength(1);
  });

  test('bounds hold', async () => {
    held.scene.update({ ...held.data, limits: { gap: { max: 0.0073 } } });
    held.scene.advance(0);
    held.data = { ...held.data, limits: { gap: { max: 0.0073 } } };
    const gap = middle(handle('gap'));
    await drag(gap, { x: gap.x, y: gap.y - 90 });
    const last = held.drags.at(-1)!.change;
    expect(last).toEqual({ handle: 'gap', value: 0.0073 });
  });
});

describe('handles by keyboard', () => {
  test('Tab visits the picture and every handle, each a slider with a name and a value', async () => {
    held.box.insertAdjacentHTML('beforebegin', '<button id="before">before</button>');
    document.getElementById('before')!.focus();
    await userEvent.tab();
    expect(root().activeElement).toBe(canvas());
    const names: string[] = [];
    for (let i = 0; i < 14; i++) {
      await userEvent.tab();
      const at = root().activeElement as HTMLElement;
      names.push(`${at.getAttribute('aria-label')}: ${at.getAttribute('aria-valuetext')}`);
      expect(at.getAttribute('role')).toBe('slider');
    }
    expect(names).toEqual([
      'Offset: x 0 mm, y 0 mm',
      'Gap: 5.9 mm',
      'Yaw: 0°',
      'Tilt about x: 0°',
      'Tilt about y: 0°',
      'Transmitter outer diameter: 44 mm',
      'Transmitter inner diameter: 20.5 mm',
      'Transmitter turns: 10',
      'Receiver outer width: 46 mm',
      'Receiver outer height: 33 mm',
      'Receiver inner width: 28 mm',
      'Receiver inner height: 15 mm',
      'Receiver corner radius: 10 mm',
      'Receiver turns: 14',
    ]);
    document.getElementById('before')!.remove();
  });

  test('arrows move the receiver by marks; one grab and one release for each key', async () => {
    held.scene.focusHandle('offset');
    await userEvent.keyboard('{ArrowRight}{ArrowRight}{ArrowUp}');
    expect(held.data.pose.x).toBe(0.002);
    expect(held.data.pose.y).toBe(0.001);
    expect(held.grabs).toBe(3);
    expect(held.releases).toHaveLength(3);
    expect(handle('offset').getAttribute('aria-valuetext')).toBe('x 2 mm, y 1 mm');
    await userEvent.keyboard('{Home}');
    expect([held.data.pose.x, held.data.pose.y]).toEqual([0, 0]);
    held.scene.focusHandle('yaw');
    await userEvent.keyboard('{ArrowUp}{Shift>}{ArrowUp}{/Shift}');
    expect((held.data.pose.yaw * 180) / Math.PI).toBeCloseTo(5.5, 9);
  });

  test('a key held down is one grab with many steps', async () => {
    held.scene.focusHandle('gap');
    await userEvent.keyboard('{ArrowUp>5}');
    expect(held.grabs).toBe(1);
    expect(held.releases).toHaveLength(0);
    await userEvent.keyboard('{/ArrowUp}');
    expect(held.releases).toHaveLength(1);
    expect(held.drags.length).toBe(5);
  });

  test('the focus stays on its handle while the data changes under it', async () => {
    held.scene.focusHandle('gap');
    for (let i = 0; i < 5; i++) {
      await userEvent.keyboard('{ArrowUp}');
      held.scene.advance(16);
      expect(root().activeElement).toBe(handle('gap'));
    }
  });

  test('a shape handle shows itself once it has the focus', async () => {
    expect(getComputedStyle(handle('receiverInnerWidth')).opacity).toBe('0');
    held.scene.focusHandle('receiverInnerWidth');
    held.scene.advance(16);
    await until(() => getComputedStyle(handle('receiverInnerWidth')).opacity === '1');
    expect(held.scene.anchors().find((a) => a.id === 'receiverInnerWidth')?.visible).toBe(true);
  });
});
