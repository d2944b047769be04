import type { Stroke } from './guide-strokes.ts';
import { TONES } from './overlay.ts';
import type { Stage } from './stage.ts';
import type { Anchor, AnchorId, ScenePalette } from './types.ts';

export interface PictureLabel {
  readonly id: AnchorId;
  readonly text: string;
}

export interface PictureInput {
  readonly stage: Stage;
  readonly strokes: readonly (Stroke & { readonly tone: keyof typeof TONES })[];
  readonly anchors: readonly Anchor[];
  readonly palette: ScenePalette;
  readonly labels: readonly PictureLabel[];
  readonly pixelRatio: number;
}

const FONT_SIZE = 14;
const BESIDE = 14;

/** Paper and the drawn objects, without lines and numbers. */
function bare({
  stage,
  palette,
  pixelRatio,
}: PictureInput): { readonly canvas: HTMLCanvasElement; readonly pen: CanvasRenderingContext2D } | null {
  const { width, height } = stage.size;
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(width * pixelRatio);
  canvas.height = Math.round(height * pixelRatio);
  const pen = canvas.getContext('2d');
  if (pen === null) return null;
  pen.fillStyle = palette.paper;
  pen.fillRect(0, 0, canvas.width, canvas.height);
  // The drawing buffer is only sure to hold its picture in the task that drew it.
  stage.draw();
  pen.drawImage(stage.canvas, 0, 0, canvas.width, canvas.height);
  return { canvas, pen };
}

const SVG = 'http://www.w3.org/2000/svg';

/** The view as an SVG: the drawn objects as a picture, lines as lines and numbers as text. */
export function drawPictureSvg(input: PictureInput, title: string): string | null {
  const drawn = bare(input);
  if (drawn === null) return null;
  const { palette } = input;
  const { width, height } = input.stage.size;
  const svg = document.createElementNS(SVG, 'svg');
  const add = (name: string, attributes: Readonly<Record<string, string | number>>, text = ''): void => {
    const element = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
    element.textContent = text;
    svg.append(element);
  };
  svg.setAttribute('xmlns', SVG);
  svg.setAttribute('width', String(width));
  svg.setAttribute('height', String(height));
  svg.setAttribute('viewBox', `0 0 ${width} ${height}`);
  add('title', {}, title);
  add('image', { width, height, href: drawn.canvas.toDataURL('image/png') });
  for (const stroke of input.strokes) {
    const colour = palette[TONES[stroke.tone]];
    add('path', {
      d: stroke.d,
      opacity: stroke.opacity,
      ...(stroke.filled
        ? { fill: colour }
        : { fill: 'none', stroke: colour, 'stroke-width': stroke.width, 'stroke-dasharray': stroke.dash || 'none' }),
    });
  }
  const family = getComputedStyle(input.stage.canvas).getPropertyValue('--font-text') || 'sans-serif';
  for (const { id, text } of input.labels) {
    const anchor = input.anchors.find((a) => a.id === id && a.visible);
    if (anchor === undefined) continue;
    const side = anchor.towardX > 0.3 ? 'start' : anchor.towardX < -0.3 ? 'end' : 'middle';
    add(
      'text',
      {
        x: (anchor.x + anchor.towardX * BESIDE).toFixed(1),
        y: (anchor.y + anchor.towardY * BESIDE + FONT_SIZE / 3).toFixed(1),
        'text-anchor': side,
        'font-family': family,
        'font-size': FONT_SIZE,
        'font-weight': 500,
        fill: palette.ink,
        stroke: palette.paper,
        'stroke-width': 3,
        'paint-order': 'stroke',
      },
      text,
    );
  }
  return `<?xml version="1.0" encoding="UTF-8"?>\n${new XMLSerializer().serializeToString(svg)}\n`;
}

/** The view as a PNG: paper, the drawn objects, lines and numbers. */
export async function drawPicture(input: PictureInput): Promise<Blob | null> {
  const { stage, palette, pixelRatio } = input;
  const drawn = bare(input);
  if (drawn === null) return null;
  const { canvas, pen } = drawn;
  pen.scale(pixelRatio, pixelRatio);
  for (const stroke of input.strokes) {
    const path = new Path2D(stroke.d);
    const colour = palette[TONES[stroke.tone]];
    pen.globalAlpha = stroke.opacity;
    pen.lineWidth = stroke.width;
    pen.setLineDash(stroke.dash === '' ? [] : stroke.dash.split(' ').map(Number));
    pen.strokeStyle = colour;
    pen.fillStyle = colour;
    if (stroke.filled) pen.fill(path);
    else pen.stroke(path);
  }
  pen.globalAlpha = 1;
  pen.setLineDash([]);
  const family = getComputedStyle(stage.canvas).getPropertyValue('--font-text') || 'sans-serif';
  pen.font = `500 ${FONT_SIZE}px ${family}`;
  pen.textBaseline = 'middle';
  pen.lineJoin = 'round';
  for (const { id, text } of input.labels) {
    const anchor = input.anchors.find((a) => a.id === id && a.visible);
    if (anchor === undefined) continue;
    const half = pen.measureText(text).width / 2;
    const x = anchor.x + anchor.towardX * (BESIDE + half) - half;
    const y = anchor.y + anchor.towardY * BESIDE;
    pen.strokeStyle = palette.paper;
    pen.lineWidth = 3;
    pen.strokeText(text, x, y);
    pen.fillStyle = palette.ink;
    pen.fillText(text, x, y);
  }
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/png'));
}
