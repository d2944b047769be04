import { expect, test, vi } from 'vitest';
import { DEMO_DESIGN } from '../../src/design/demo.ts';
import { setValue } from '../../src/state/commands/set-value.ts';
import { HoldAnswer } from '../../src/state/hold-answer.ts';
import { DesignStore } from '../../src/state/store.ts';
import { createFakeEngine } from '../support/fake-engine.ts';

const clearance = (value: number) => ({ path: 'holding.recess.clearanceMm', value, what: 'clearance' });

test('a first look, the whole report, quick ones while dragging; nothing while nobody looks', async () => {
  const engine = createFakeEngine({ delayMs: 20 });
  const store = new DesignStore(DEMO_DESIGN);
  const hold = new HoldAnswer(store, engine);
  const stop = hold.start();
  expect(hold.report.value).toBeNull();
  expect(engine.asked.hold).toBe(0);

  hold.want(true);
  await vi.waitFor(() => expect(hold.report.value).not.toBeNull());
  expect(hold.whole.value).toBe(false);
  expect(hold.report.value?.recess.recommended.directPercent).toBeNull();
  await vi.waitFor(() => expect(hold.whole.value).toBe(true), { timeout: 5000 });
  expect(hold.report.value?.recess.recommended.directPercent).not.toBeNull();
  expect(engine.asked.hold).toBe(1);

  store.run(setValue, clearance(1.2), 'start');
  store.run(setValue, clearance(2), 'move');
  expect(hold.fresh.value).toBe(false);
  await vi.waitFor(() => expect(hold.fresh.value).toBe(true), { timeout: 5000 });
  expect(hold.whole.value).toBe(false);
  expect(hold.report.value?.recess.asDesigned?.clearanceMm).toBe(2);
  expect(engine.asked.hold).toBe(1);
  store.run(setValue, clearance(2), 'end');
  await vi.waitFor(() => expect(hold.whole.value).toBe(true), { timeout: 5000 });
  expect(engine.asked.hold).toBe(2);

  hold.want(false);
  store.run(setValue, clearance(3));
  await new Promise((resolve) => setTimeout(resolve, 60));
  expect(engine.asked.hold).toBe(2);
  stop();
});

test('stopped work can be taken up again', async () => {
  const engine = createFakeEngine({ delayMs: 60 });
  const hold = new HoldAnswer(new DesignStore(DEMO_DESIGN), engine);
  const stop = hold.start();
  hold.want(true);
  await vi.waitFor(() => expect(hold.report.value).not.toBeNull(), { timeout: 5000 });
  expect(hold.running.value).toBe(true);
  hold.stop();
  await vi.waitFor(() => expect(hold.running.value).toBe(false), { timeout: 5000 });
  expect(hold.whole.value).toBe(false);
  hold.resume();
  await vi.waitFor(() => expect(hold.whole.value).toBe(true), { timeout: 5000 });
  stop();
});
