import { afterEach, expect, test, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { answered, deep, deepAll, type MountedApp, mountApp, settled } from './mount-app.ts';

let mounted: MountedApp;

async function begin(station: string): Promise<void> {
  await page.viewport(1440, 900);
  mounted = await mountApp({ station });
  await answered(mounted);
}

afterEach(() => mounted.unmount());

/** What has the focus, through every shadow root. */
function focused(): Element {
  let at = document.activeElement as Element;
  while (at.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
  return at;
}

const words = (): string => focused().getAttribute('aria-label') ?? focused().textContent?.trim() ?? '';
const stack = () => mounted.session.store.design.value.stack.map((layer) => layer.name);

/** Presses what has the focus, by the keyboard. */
async function enter(): Promise<void> {
  await userEvent.keyboard('{Enter}');
  await settled(document);
}

test('whoever takes the layers out one after the other stays in the list', async () => {
  await begin('place');
  deep<HTMLDetailsElement>(mounted.app, 'details.layers').open = true;
  const out = () => deepAll(mounted.app, 'details.layers button').filter((b) => b.textContent?.trim() === 'take out');
  out()[1]?.focus();
  await enter();
  expect(stack()).toEqual(['oak', 'case wall', 'air']);
  expect(words()).toBe('Take case wall out');
  out()[2]?.focus();
  await enter();
  expect(stack()).toEqual(['oak', 'case wall']);
  expect(words()).toBe('add a layer');
  await enter();
  expect(stack()).toEqual(['oak', 'case wall', 'new layer']);
  expect(words()).toBe('add a layer');
  for (let i = 0; i < 3; i += 1) {
    out()[0]?.focus();
    await enter();
  }
  expect(stack()).toEqual([]);
  expect(focused()).not.toBe(document.body);
  expect(words()).toBe('add a layer');
});

test('the same with loads, down to the one that must stay', async () => {
  await begin('feed');
  const buttons = (text: string) => deepAll(mounted.app, 'button').filter((b) => b.textContent?.trim() === text);
  await vi.waitFor(() => expect(buttons('Change the list')).toHaveLength(1), { timeout: 20_000 });
  buttons('Change the list')[0]?.click();
  await vi.waitFor(() => expect(buttons('take out')).toHaveLength(4), { timeout: 20_000 });
  for (let left = 3; left >= 1; left -= 1) {
    buttons('take out').at(-1)?.focus();
    await enter();
    await vi.waitFor(() => expect(mounted.session.store.design.value.demand.loads).toHaveLength(left));
    await settled(document);
    expect(focused()).not.toBe(document.body);
    expect(focused().isConnected).toBe(true);
    expect(focused()).not.toBe(mounted.app);
  }
});

test('a message that is put away leaves the focus on the page', async () => {
  await begin('place');
  mounted.session.notice.value = 'Something to say.';
  await settled(document);
  const away = deepAll(mounted.app, '.notice button').find((b) => b.textContent?.trim() === 'put away');
  away?.focus();
  await enter();
  expect(mounted.session.notice.value).toBeNull();
  await settled(document);
  expect(focused()).not.toBe(document.body);
});

test('a name that is refused leaves its field when it is undone', async () => {
  await begin('place');
  deep<HTMLDetailsElement>(mounted.app, 'details.layers').open = true;
  const name = () => deep<HTMLInputElement>(mounted.app, 'details.layers input');
  name().focus();
  name().value = 'oak\u202e';
  name().dispatchEvent(new Event('change', { bubbles: true }));
  await settled(document);
  expect(mounted.session.store.faults.value[0]?.path).toBe('stack[0].name');
  expect(name().value).toBe('oak\u202e');
  mounted.session.store.undo();
  await settled(document);
  expect(mounted.session.store.faults.value).toEqual([]);
  expect(name().value).toBe('oak');
});
