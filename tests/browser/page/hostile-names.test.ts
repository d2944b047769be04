import { afterEach, beforeEach, expect, test } from 'vitest';
import { page } from 'vitest/browser';
import { chartSvg } from '../../../src/charts/export.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { parseDesign } from '../../../src/design/resolve.ts';
import type { DesignDocument } from '../../../src/design/schema.ts';
import { faultLine } from '../../../src/numerics/errors.ts';
import { deepAll, type MountedApp, mountApp } from '../stations/mount-app.ts';
import { settled } from '../stations/mount-part.ts';

/** Each would set `owned` or bring an element of its own, were it read as anything but text. */
const NAMES = [
  '<img src=x onerror="owned=1">',
  '"><script>owned=1</script>',
  "' onmouseover='owned=1' x='",
  '</text><script>owned=1</script>',
  // biome-ignore lint/suspicious/noTemplateCurlyInString: a template's text, to see that nothing reads it as one.
  '${owned=1}{{owned=1}}',
  '=cmd|" /C calc"!A0',
  '<svg onload=owned=1><foreignObject>',
] as const;

const LAYERS = DEMO_DESIGN.stack ?? [];

/** The demo with a name of that kind wherever there is one to give. */
const HOSTILE: DesignDocument = {
  ...DEMO_DESIGN,
  title: `${NAMES.join(' ').slice(0, 190)}<b>`,
  notes: NAMES.join('\n'),
  stack: LAYERS.map((layer, i) => ({ ...layer, name: NAMES[i % NAMES.length] })),
  demand: {
    ...DEMO_DESIGN.demand,
    loads: DEMO_DESIGN.demand.loads.map((load, i) => ({
      ...load,
      name: `${NAMES[i % NAMES.length]} ${i}`,
      alongside: [],
    })),
  },
};

const world = globalThis as { owned?: unknown };
let mounted: MountedApp;

beforeEach(async () => {
  await page.viewport(1280, 900);
  const parsed = parseDesign(HOSTILE);
  // The names are such as the format allows: what it refuses comes no further.
  expect(parsed.ok ? [] : parsed.faults.map(faultLine)).toEqual([]);
});
afterEach(() => {
  mounted.unmount();
  delete world.owned;
});

/** Elements that only markup of a name could have made, and attributes that would run. */
function injected(root: HTMLElement): string[] {
  return deepAll<Element>(root, '*').flatMap((element) => {
    const found: string[] = [];
    if (['script', 'img', 'iframe', 'object', 'embed', 'foreignobject'].includes(element.localName.toLowerCase()))
      found.push(element.localName);
    for (const { name, value } of element.attributes) {
      if (/^on[a-z]+$/.test(name) || /^\s*javascript:/i.test(value)) found.push(`${element.localName} ${name}`);
    }
    return found;
  });
}

/** Whether one of the names is to be seen as text, so that the test looks at something. */
const shown = (root: HTMLElement): boolean =>
  deepAll<Element>(root, '*').some(
    (element) =>
      NAMES.some((name) =>
        [...element.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.textContent?.includes(name)),
      ) ||
      (element instanceof HTMLInputElement && NAMES.some((name) => element.value.includes(name))),
  );

test.each(['pair', 'feed', 'place', 'hold', 'prove', 'report', 'beside'])(
  '%s shows hostile names as text and nothing else',
  async (station) => {
    mounted = await mountApp({ station, start: HOSTILE });
    await settled();
    await expect.poll(() => shown(mounted.app), { timeout: 20_000 }).toBe(true);
    for (const button of deepAll<HTMLElement>(mounted.app, 'summary, [aria-expanded="false"]')) button.click();
    await settled();
    expect(injected(mounted.app)).toEqual([]);
    expect(world.owned).toBeUndefined();
  },
);

test('a picture of hostile layers holds their names as text alone', async () => {
  mounted = await mountApp({ station: 'place', start: HOSTILE });
  await expect.poll(() => shown(mounted.app), { timeout: 20_000 }).toBe(true);
  const [chart] = deepAll(mounted.app, 'oc-side-view');
  const parsed = new DOMParser().parseFromString(chartSvg(chart, HOSTILE.title ?? ''), 'image/svg+xml');
  expect(parsed.querySelector('parsererror, script, img, image, foreignObject, a, style')).toBeNull();
  for (const element of parsed.querySelectorAll('*'))
    for (const { name } of element.attributes) expect(name).not.toMatch(/^on/);
  expect(parsed.querySelector('title')?.textContent).toBe(HOSTILE.title);
  const texts = [...parsed.querySelectorAll('text')].map((text) => text.textContent ?? '');
  expect(texts.some((text) => text.includes('onerror'))).toBe(true);
});
