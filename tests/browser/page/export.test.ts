import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { page } from 'vitest/browser';
import { chartPng, chartSvg } from '../../../src/charts/export.ts';
import { DEMO_DESIGN } from '../../../src/design/demo.ts';
import { answered, deep, deepAll, type MountedApp, mountApp } from '../stations/mount-app.ts';

let mounted: MountedApp;

beforeEach(async () => {
  await page.viewport(1280, 800);
  mounted = await mountApp({ start: { ...DEMO_DESIGN, placement: { offsetXMm: 6, offsetYMm: 2.5, yawDeg: 4 } } });
  await answered(mounted);
});

afterEach(() => mounted.unmount());

test.each(['oc-margin-map', 'oc-side-view', '#against-gap'])('%s becomes a picture that stands alone', (selector) => {
  const text = chartSvg(deep(mounted.app, selector), 'A <title> & more');
  const parsed = new DOMParser().parseFromString(text, 'image/svg+xml');
  expect(parsed.querySelector('parsererror')).toBeNull();
  expect(text).not.toContain('<!--');
  expect(text).not.toMatch(/var\(|currentColor|lit\$|\bclass=|\bstyle=|tabindex|aria-|oklch|light-dark/);
  expect(parsed.documentElement.getAttribute('viewBox')).toMatch(/^0 0 \d+ \d+$/);
  expect(parsed.querySelector('title')?.textContent).toBe('A <title> & more');
  expect(parsed.querySelectorAll('text').length).toBeGreaterThan(4);
  expect(parsed.querySelectorAll('path').length).toBeGreaterThan(2);
  for (const element of parsed.querySelectorAll('[fill], [stroke]')) {
    for (const name of ['fill', 'stroke']) {
      const value = element.getAttribute(name);
      if (value !== null) expect(value, `${element.localName} ${name}`).toMatch(/^(#[0-9a-f]{6}|none|url\(#[\w-]+\))$/);
    }
  }
  // Every reference inside resolves inside.
  for (const [, id] of text.matchAll(/url\(#([\w-]+)\)/g)) expect(parsed.getElementById(id), id).not.toBeNull();
  // Handles are for the hand, not for the picture.
  expect(parsed.querySelectorAll('.handle').length).toBe(0);
});

test('the numbers that stand as fields on the drawing are text in the picture', () => {
  const text = chartSvg(deep(mounted.app, 'oc-side-view'), 'stack').replace(/[\u2009\u00a0]/g, ' ');
  expect(text).toContain('>oak 4 mm<');
  expect(text).toContain('>5.9 mm<');
  const map = chartSvg(deep(mounted.app, 'oc-margin-map'), 'map').replace(/[\u2009\u00a0]/g, ' ');
  expect(map).toContain('>x 6 mm<');
});

test('pictures show where the receiver lies, without its handles', () => {
  const parse = (selector: string): Document =>
    new DOMParser().parseFromString(chartSvg(deep(mounted.app, selector), 'picture'), 'image/svg+xml');
  const [x, y] = ['cx', 'cy'].map((name) => {
    const dot = deep(mounted.app, 'oc-margin-map').shadowRoot?.querySelector('.handle.ring') as SVGGElement;
    const box = dot.getAttribute('transform') ?? '';
    return Number(/translate\(([-\d.]+) ([-\d.]+)\)/.exec(box)?.[name === 'cx' ? 1 : 2]);
  });
  const dots = [...parse('oc-margin-map').querySelectorAll('circle')].map((dot) => [
    Number(dot.getAttribute('cx')),
    Number(dot.getAttribute('cy')),
  ]);
  expect(dots.some(([cx, cy]) => Math.hypot(cx - x, cy - y) < 0.5)).toBe(true);
  const chart = deep(mounted.app, '#against-gap');
  const at = Number(chart.shadowRoot?.querySelector('.handle.marker .knob')?.getAttribute('cx'));
  const upright = [...parse('#against-gap').querySelectorAll('line')].filter(
    (line) => Math.abs(Number(line.getAttribute('x1')) - at) < 0.5 && line.getAttribute('stroke') !== 'none',
  );
  expect(upright).toHaveLength(1);
});

test('the picture drawn alone looks like the figure: same ink in the same places', async () => {
  const map = deep(mounted.app, 'oc-margin-map');
  const blob = await chartPng(map, 'map', 1);
  expect(blob.type).toBe('image/png');
  const image = await createImageBitmap(blob);
  const box = map.shadowRoot?.querySelector('svg')?.getBoundingClientRect();
  expect(image.width).toBe(Math.round(box?.width ?? 0));
  const canvas = new OffscreenCanvas(image.width, image.height);
  const context = canvas.getContext('2d');
  context?.drawImage(image, 0, 0);
  const pixels = context?.getImageData(0, 0, image.width, image.height).data ?? new Uint8ClampedArray();
  const colours = new Set<number>();
  for (let i = 0; i < pixels.length; i += 4) colours.add((pixels[i] << 16) | (pixels[i + 1] << 8) | pixels[i + 2]);
  // Washes, hatching, lines, outlines and text: far more than a blank sheet.
  expect(colours.size).toBeGreaterThan(50);
});

test('what is only to be pressed is not in a picture', async () => {
  mounted.unmount();
  mounted = await mountApp({ station: 'feed' });
  await answered(mounted);
  await vi.waitFor(
    () => expect(deepAll(mounted.app, 'oc-feed-divider .adds, .adds button').length).toBeGreaterThan(0),
    {
      timeout: 20_000,
    },
  );
  const text = chartSvg(deep(mounted.app, 'oc-feed-divider'), 'divider');
  expect(text).toContain('110');
  expect(text).not.toContain('trimmer');
});

test('a figure says that it was copied, or why not', async () => {
  const written: string[] = [];
  vi.spyOn(navigator.clipboard, 'writeText').mockImplementation(async (words) => {
    written.push(words);
  });
  const figure = deep(mounted.app, 'oc-figure');
  const copy = async () => {
    figure.dispatchEvent(new CustomEvent('export-requested', { detail: { action: 'copy', format: 'svg' } }));
    await vi.waitFor(() => expect(figure.shadowRoot?.querySelector('[role=status]')?.textContent).toBe('copied'));
  };
  await copy();
  expect(written[0]).toMatch(/^<\?xml/);
  expect(figure.shadowRoot?.querySelector('.hint')?.textContent).toBe('copied');
  await vi.waitFor(() => expect(figure.shadowRoot?.querySelector('.hint')?.textContent).toBe('drag the ring'), {
    timeout: 6000,
  });
  vi.mocked(navigator.clipboard.writeText).mockRejectedValue(new Error('not allowed'));
  figure.dispatchEvent(new CustomEvent('export-requested', { detail: { action: 'copy', format: 'svg' } }));
  await vi.waitFor(() => expect(mounted.session.notice.value).toMatch(/did not let the page copy/));
  vi.restoreAllMocks();
});
