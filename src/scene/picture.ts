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

/** The view as a PNG: paper, the drawn objects, lines and numbers. */
export async function drawPicture(input: PictureInput): Promise<Blob | null> {
  const { stage, palette, pixelRatio } = input;
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
