import { type ReadonlySignal, type Signal, signal } from '@preact/signals-core';
import type { PicturePoint } from '../analysis/pair/picture-plane.ts';
import { InputError } from '../numerics/errors.ts';
import { pictureHeader } from './picture-header.ts';

/** Bounds of a picture: a phone's camera gives 12 to 50 megapixels. */
export const PICTURE_LIMITS = Object.freeze({ bytes: 40_000_000, pixels: 64_000_000 });

/** A picture from the user's own disk. It stays in this page's memory and is kept nowhere. */
export interface TracePicture {
  readonly name: string;
  readonly blob: Blob;
  readonly width: number;
  readonly height: number;
}

/** What lies over the picture, px of the picture. */
export interface TraceMarks {
  readonly points: readonly PicturePoint[];
  /** Index of the selected point; -1: none. */
  readonly selected: number;
  readonly from: PicturePoint;
  readonly to: PicturePoint;
  /** Of a rectangle that is known in the picture, clockwise from the upper left. */
  readonly corners: readonly [PicturePoint, PicturePoint, PicturePoint, PicturePoint];
}

const NO_MARKS: TraceMarks = {
  points: [],
  selected: -1,
  from: [0, 0],
  to: [0, 0],
  corners: [
    [0, 0],
    [0, 0],
    [0, 0],
    [0, 0],
  ],
};

/** Steps that can be taken back. */
const MOST_STEPS = 200;

/**
 * Reads a picture file.
 *
 * @throws InputError for what is no PNG or JPEG, is too large, or cannot be decoded
 */
export async function readPicture(file: Blob & { readonly name?: string }): Promise<TracePicture> {
  const name = file.name ?? 'picture';
  const wrong = (code: string, required: string, received: string, hint?: string): InputError =>
    new InputError({ code, path: 'picture', required, received, ...(hint === undefined ? {} : { hint }) });
  if (file.size > PICTURE_LIMITS.bytes)
    throw wrong(
      'too-large',
      'at most 40 MB',
      `${(file.size / 1e6).toFixed(0)} MB`,
      'Save it smaller and open it again.',
    );
  const header = pictureHeader(new Uint8Array(await file.arrayBuffer()));
  if (!header) throw wrong('no-picture', 'a PNG or JPEG picture', `“${name}”, which is neither or is cut short`);
  if (!(header.width > 0 && header.height > 0) || header.width * header.height > PICTURE_LIMITS.pixels)
    throw wrong(
      'too-many-pixels',
      'a picture of at most 64 million pixels',
      `${header.width} × ${header.height} px`,
      'Save it smaller and open it again.',
    );
  try {
    // With the turn that the camera noted, as the page will show it.
    const bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' });
    const { width, height } = bitmap;
    bitmap.close();
    return { name, blob: file, width, height };
  } catch {
    throw wrong('no-picture', 'a whole PNG or JPEG picture', `“${name}”, which the browser cannot decode`);
  }
}

/** Tracing a picture: it outlasts the station, so that looking elsewhere costs nothing. */
export class TraceWork {
  readonly #picture = signal<TracePicture | null>(null);
  readonly #marks = signal<TraceMarks>(NO_MARKS);
  readonly #past = signal<readonly TraceMarks[]>([]);
  /** What the last step was, so that a run of key presses on one point is one step. */
  #lastStep = '';

  readonly picture: ReadonlySignal<TracePicture | null> = this.#picture;
  readonly marks: ReadonlySignal<TraceMarks> = this.#marks;
  readonly past: ReadonlySignal<readonly TraceMarks[]> = this.#past;
  /** What is known in the picture: a length, where it was taken from straight above, or a rectangle. */
  readonly known: Signal<'length' | 'rectangle'> = signal<'length' | 'rectangle'>('length');
  /** Of the rectangle, along its first side and its second: a bank card, ISO/IEC 7810 ID-1 (from memory). */
  readonly widthMm: Signal<number> = signal(85.6);
  readonly heightMm: Signal<number> = signal(53.98);
  /** What is stated beside the picture; half-widths are 95 %. */
  readonly scaleMm: Signal<number> = signal(50);
  readonly scaleErrorMm: Signal<number> = signal(0.5);
  readonly half: Signal<boolean> = signal(false);
  readonly along: Signal<'picture' | 'scale'> = signal<'picture' | 'scale'>('picture');
  /** Null: the pitch of the coil there is. */
  readonly pitchMm: Signal<number | null> = signal<number | null>(null);

  /** Puts a picture on the table, its scale across the lower part. Marks of the one before can be taken back. */
  open(picture: TracePicture): void {
    const same = this.#picture.peek();
    const again = same !== null && same.width === picture.width && same.height === picture.height;
    this.#picture.value = picture;
    // The same picture opened again keeps what lies over it.
    if (again) return;
    const { width, height } = picture;
    this.#past.value = [];
    this.#marks.value = {
      points: [],
      selected: -1,
      from: [0.25 * width, 0.85 * height],
      to: [0.75 * width, 0.85 * height],
      corners: [
        [0.3 * width, 0.65 * height],
        [0.7 * width, 0.65 * height],
        [0.7 * width, 0.9 * height],
        [0.3 * width, 0.9 * height],
      ],
    };
  }

  close(): void {
    this.#picture.value = null;
  }

  /** @param step names the step; the same name again goes into the same step, the empty one makes none */
  change(marks: TraceMarks, step: string): void {
    if (step !== '' && (step !== this.#lastStep || this.#past.peek().length === 0))
      this.#past.value = [...this.#past.peek(), this.#marks.peek()].slice(-MOST_STEPS);
    if (step !== '') this.#lastStep = step;
    this.#marks.value = marks;
  }

  takeBack(): void {
    const last = this.#past.peek().at(-1);
    if (!last) return;
    this.#past.value = this.#past.peek().slice(0, -1);
    this.#lastStep = '';
    this.#marks.value = last;
  }
}
