import { expect, test } from 'vitest';
import { type SideCoil, type SideViewModel, sideLayout } from '../../src/charts/side-view-layout.ts';

const coil = (half: number): SideCoil => ({
  sectionMm: new Float64Array(),
  conductorWidthMm: 1,
  conductorHeightMm: 1,
  round: true,
  halfWidthMm: half,
  halfThicknessMm: 0.5,
  ferrite: { halfWidthMm: half + 2, thicknessMm: 1, standoffMm: 0.5 },
  metal: null,
});

const model: SideViewModel = {
  transmitter: coil(22),
  receiver: { ...coil(20), metal: { halfWidthMm: 19, thicknessMm: 0.5, standoffMm: 1 } },
  layers: [
    { name: 'oak', thicknessMm: 4, material: 'wood', side: 'transmitter' },
    { name: 'felt', thicknessMm: 0.3, material: 'textile', side: 'transmitter' },
    { name: 'case wall', thicknessMm: 1.2, material: 'plastic', side: 'receiver' },
    { name: 'air', thicknessMm: 0.4, material: 'air', side: 'receiver' },
  ],
  gapMm: 5.9,
  offsetXMm: 6,
  tiltYDeg: 0,
};

test.each([320, 390, 540, 900])('widths and heights have one scale, labels do not touch, at %i px', (width) => {
  const layout = sideLayout(model, width);
  expect(layout.x(1) - layout.x(0)).toBeCloseTo(layout.y(0) - layout.y(1), 9);
  const labels = layout.slabs.map((slab) => slab.labelY).sort((a, b) => a - b);
  for (let i = 1; i < labels.length; i += 1) expect(labels[i] - labels[i - 1]).toBeGreaterThanOrEqual(23.9);
  expect(Math.min(...labels)).toBeGreaterThan(0);
  expect(Math.max(...labels)).toBeLessThanOrEqual(layout.height);
});

test('the layers fill the gap from the transmitter up, without holes', () => {
  const { slabs, y, transmitterTop, receiverBottom } = sideLayout(model, 540);
  const layers = slabs.filter((slab) => slab.part.kind === 'layer');
  expect(layers[0].y + layers[0].height).toBeCloseTo(y(transmitterTop), 6);
  for (let i = 1; i < layers.length; i += 1) {
    expect(layers[i].y + layers[i].height).toBeCloseTo(layers[i - 1].y, 6);
  }
  expect(layers[3].y).toBeCloseTo(y(receiverBottom), 6);
});

test('plates stand behind their coils at their standoffs', () => {
  const { slabs, y } = sideLayout(model, 540);
  const by = (slot: string) => slabs.find((slab) => slab.slot === slot);
  // Transmitter's ferrite: 0.5 mm of half winding, 0.5 mm standoff, 1 mm thick.
  expect(by('transmitter-ferrite')?.y).toBeCloseTo(y(-1), 6);
  expect(by('transmitter-ferrite')?.height).toBeCloseTo(y(-2) - y(-1), 6);
  // Receiver: its back at 0.5 + 5.9 + 1 = 7.4; ferrite 7.9 to 8.9; metal 1 mm behind.
  expect(by('receiver-ferrite')?.y).toBeCloseTo(y(8.9), 6);
  expect(by('receiver-metal')?.y).toBeCloseTo(y(10.4), 6);
});

test('the extent kept during a drag stays', () => {
  const held = sideLayout(model, 540).extent;
  const later = sideLayout({ ...model, offsetXMm: 14 }, 540, held);
  expect(later.pxPerMm).toBe(sideLayout(model, 540).pxPerMm);
});

test.each([0.05, 60, 200, 1000])('a gap of %d mm is drawn to scale and no taller than a screen', (gapMm) => {
  const layout = sideLayout({ ...model, layers: [], gapMm }, 540);
  expect(layout.height).toBeLessThan(520);
  expect(layout.x(1) - layout.x(0)).toBeCloseTo(layout.y(0) - layout.y(1), 9);
  expect(layout.y(layout.receiverMiddle)).toBeGreaterThan(0);
});

test('a receiver far off stays within the drawing', () => {
  const layout = sideLayout({ ...model, offsetXMm: -700 }, 540);
  expect(layout.x(-700 - 20)).toBeGreaterThanOrEqual(layout.left);
  expect(layout.x(24)).toBeLessThanOrEqual(layout.right + 1e-9);
  expect(layout.right).toBeLessThan(540);
});

test('a tilted receiver has room for its raised edge and its lowered one', () => {
  const level = sideLayout(model, 540);
  const tilted = sideLayout({ ...model, tiltYDeg: 20 }, 540);
  const edge = 22 * Math.sin((20 * Math.PI) / 180);
  expect(tilted.y(10.4 + edge)).toBeGreaterThanOrEqual(30);
  expect(tilted.y(6.4 - edge)).toBeLessThanOrEqual(tilted.height);
  expect(tilted.pxPerMm).toBe(level.pxPerMm);
});
