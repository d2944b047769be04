import type { OffsetMap } from '../analysis/types.ts';
import type { Design, OutlineDocument } from '../design/types.ts';
import { formatQuantity } from '../units/format.ts';

/** Text made safe between tags and in attributes. Control characters, which XML forbids, are dropped. */
export function svgText(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

/**
 * Bands of margin, percent, and their fill: lightness falls steadily, so that grey print keeps the order and no meaning
 * rests on hue alone.
 */
const BANDS: readonly { readonly from: number; readonly fill: string; readonly label: string }[] = [
  { from: Number.NEGATIVE_INFINITY, fill: '#ffffff', label: 'below 0 %' },
  { from: 0, fill: '#f3e9c6', label: '0 to 20 %' },
  { from: 20, fill: '#cfdcae', label: '20 to 50 %' },
  { from: 50, fill: '#8fc0a4', label: '50 to 100 %' },
  { from: 100, fill: '#4f96a0', label: 'over 100 %' },
];

const number = (value: number) => String(Number(value.toFixed(3)));

function bandOf(margin: number): number {
  let band = 0;
  for (let b = 1; b < BANDS.length; b++) if (margin >= BANDS[b].from) band = b;
  return band;
}

/** The map's cells, neighbours of one band in a row drawn as one rectangle. y points up. */
function cells(map: OffsetMap): string {
  const { xMm, yMm, marginPercent } = map;
  if (xMm.length < 2 || yMm.length < 2) return '';
  const dx = xMm[1] - xMm[0];
  const dy = yMm[1] - yMm[0];
  const parts: string[] = [];
  for (let j = 0; j < yMm.length; j++) {
    let start = 0;
    for (let i = 1; i <= xMm.length; i++) {
      const band = bandOf(marginPercent[j * xMm.length + start]);
      if (i < xMm.length && bandOf(marginPercent[j * xMm.length + i]) === band) continue;
      if (band > 0) {
        parts.push(
          `<rect x="${number(xMm[start] - dx / 2)}" y="${number(-yMm[j] - dy / 2)}" width="${number((i - start) * dx)}" height="${number(dy * 1.02)}" fill="${BANDS[band].fill}"/>`,
        );
      }
      start = i;
    }
  }
  return parts.join('\n');
}

function rings(list: readonly Float64Array[]): string {
  return list
    .map((ring) => {
      const corners: string[] = [];
      for (let i = 0; i + 1 < ring.length; i += 2) corners.push(`${number(ring[i])} ${number(-ring[i + 1])}`);
      return corners.length === 0 ? '' : `M${corners.join('L')}Z`;
    })
    .join('');
}

/** A coil's outer edge, as drawn beneath the map. */
function coilEdge(outline: OutlineDocument): string {
  switch (outline.shape) {
    case 'circle':
      return `<circle r="${number(outline.outerDiameterMm / 2)}"/>`;
    case 'path':
      return `<path d="M${outline.pointsMm.map(([x, y]) => `${number(x)} ${number(-y)}`).join('L')}Z"/>`;
    default: {
      const { outerWidthMm: w, outerHeightMm: h } = outline;
      const radius = outline.shape === 'stadium' ? Math.min(w, h) / 2 : outline.outerCornerRadiusMm;
      return `<rect x="${number(-w / 2)}" y="${number(-h / 2)}" width="${number(w)}" height="${number(h)}" rx="${number(radius)}"/>`;
    }
  }
}

function ticks(low: number, high: number): number[] {
  const step = high - low > 60 ? 10 : high - low > 24 ? 5 : high - low > 8 ? 2 : 1;
  const list: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9; k++) list.push(k * step);
  return list;
}

/**
 * The map as a drawing in true millimetres: printed at 100 % its check bar measures its stated length. Filled bands of
 * margin, the safe outline strong, collapse dashed, the wake limit dotted, both coils' outer edges thin.
 */
export function mapSvg(map: OffsetMap, design: Design): string {
  const { xMm, yMm } = map;
  const [x0, x1] = [xMm[0], xMm[xMm.length - 1]];
  const [y0, y1] = [yMm[0], yMm[yMm.length - 1]];
  const margin = 12;
  const foot = 26;
  const width = Math.max(x1 - x0, 70) + 2 * margin;
  const left = (x0 + x1) / 2 - width / 2;
  const top = -y1 - margin;
  const height = y1 - y0 + margin + foot;
  const bar = x1 - x0 >= 50 || width >= 60 ? 50 : 20;
  const reach = formatQuantity(map.reachMm.value, 'mm', { space: ' ', fixedUnit: true });
  const barY = -y0 + foot - 5;
  const text = (x: number, y: number, anchor: string, words: string, size = 2.6) =>
    `<text x="${number(x)}" y="${number(y)}" text-anchor="${anchor}" font-size="${size}">${svgText(words)}</text>`;
  const grid = [
    ...ticks(x0, x1).map((x) => text(x, -y0 + 4, 'middle', String(x))),
    ...ticks(y0, y1).map((y) => text(x0 - 1.5, -y + 0.9, 'end', String(y))),
  ];
  const legendStep = (width - 2 * margin) / (BANDS.length - 1);
  const legend = BANDS.slice(1).map((band, i) => {
    const x = left + margin + i * legendStep;
    return `<rect x="${number(x)}" y="${number(-y0 + 10.6)}" width="3" height="3" fill="${band.fill}" stroke="#333" stroke-width="0.1"/>${text(x + 4, -y0 + 13, 'start', band.label, 2.2)}`;
  });
  const placement = design.placement;
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="${number(width)}mm" height="${number(height)}mm" viewBox="${number(left)} ${number(top)} ${number(width)} ${number(height)}" font-family="sans-serif">
<title>${svgText(design.title)}: margin over sideways offset</title>
<desc>Gap ${number(map.gapMm)} mm. Reach ${svgText(reach)}. Units: millimetres.</desc>
<rect x="${number(left)}" y="${number(top)}" width="${number(width)}" height="${number(height)}" fill="#ffffff"/>
<g shape-rendering="crispEdges">
${cells(map)}
</g>
<g fill="none" stroke="#777777" stroke-width="0.15">
<g id="transmitter-coil">${coilEdge(design.transmitter.coil.outline)}</g>
<g id="receiver-coil" stroke-dasharray="1 0.6" transform="translate(${number(placement.offsetXMm)} ${number(-placement.offsetYMm)}) rotate(${number(-placement.yawDeg)})">${coilEdge(design.receiver.coil.outline)}</g>
</g>
<g fill="none" stroke="#1d1d1b">
<path id="wake-outline" d="${rings(map.wakeOutline)}" stroke-width="0.25" stroke-dasharray="0.3 0.8" stroke-linecap="round"/>
<path id="collapse-outline" d="${rings(map.collapseOutline)}" stroke-width="0.25" stroke-dasharray="1.6 0.8"/>
<path id="safe-outline" d="${rings(map.safeOutline)}" stroke-width="0.5"/>
<rect x="${number(x0)}" y="${number(-y1)}" width="${number(x1 - x0)}" height="${number(y1 - y0)}" stroke-width="0.2"/>
<path d="M-1 0H1M0 -1V1" stroke-width="0.15"/>
</g>
<g fill="#1d1d1b">
${grid.join('\n')}
${text(left + margin, top + 5, 'start', design.title.slice(0, 60), 3.4)}
${text(left + margin, top + 9, 'start', `gap ${number(map.gapMm)} mm, reach ${reach} at ${number(map.wantedMarginPercent)} % margin; safe: solid, collapse: dashed, wakes: dotted`, 2.2)}
${text((x0 + x1) / 2, -y0 + 8, 'middle', 'offset x, mm')}
${legend.join('\n')}
<path id="check-bar" d="M${number(left + margin)} ${number(barY)}h${bar}" stroke="#1d1d1b" stroke-width="0.3" fill="none"/>
<path d="M${number(left + margin)} ${number(barY - 1)}v2m${bar} -2v2" stroke="#1d1d1b" stroke-width="0.2" fill="none"/>
${text(left + margin, barY + 3.4, 'start', `${bar} mm when printed at 100 %`, 2.2)}
</g>
</svg>
`;
}
