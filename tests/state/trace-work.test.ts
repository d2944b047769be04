import { deflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/numerics/errors.ts';
import { pictureHeader } from '../../src/state/picture-header.ts';
import { readPicture, TraceWork } from '../../src/state/trace-work.ts';

/** A PNG's first bytes: signature, then IHDR. */
function png(width: number, height: number): Uint8Array {
  const bytes = new Uint8Array(33);
  bytes.set([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52]);
  const view = new DataView(bytes.buffer);
  view.setUint32(16, width);
  view.setUint32(20, height);
  return bytes;
}

/** A JPEG's markers up to its frame header, a camera's block before it. */
function jpeg(width: number, height: number): Uint8Array {
  const camera = [0xff, 0xe1, 0x00, 0x10, ...new Array(14).fill(0x55)];
  const frame = [0xff, 0xc2, 0x00, 0x11, 8, height >> 8, height & 255, width >> 8, width & 255, 3];
  return Uint8Array.from([0xff, 0xd8, ...camera, ...frame, ...new Array(20).fill(0)]);
}

describe('what kind of picture a file is', () => {
  it('comes from its bytes, not from its name', () => {
    expect(pictureHeader(png(640, 480))).toEqual({ kind: 'png', width: 640, height: 480 });
    expect(pictureHeader(jpeg(4032, 3024))).toEqual({ kind: 'jpeg', width: 4032, height: 3024 });
    expect(pictureHeader(new TextEncoder().encode('<svg xmlns="http://www.w3.org/2000/svg"/>'))).toBeNull();
    expect(pictureHeader(new Uint8Array())).toBeNull();
    expect(pictureHeader(png(9, 9).slice(0, 18))).toBeNull();
    expect(pictureHeader(jpeg(9, 9).slice(0, 12))).toBeNull();
    expect(pictureHeader(new Uint8Array(deflateSync(new Uint8Array(200))))).toBeNull();
  });

  it('never runs on where a file is damaged', () => {
    let seed = 5;
    for (let n = 0; n < 300; n++) {
      const bytes = jpeg(800, 600);
      for (let i = 2; i < bytes.length; i++) {
        seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
        if (seed % 5 === 0) bytes[i] = seed >>> 24;
      }
      const header = pictureHeader(bytes);
      expect(header === null || header.kind === 'jpeg').toBe(true);
    }
  });
});

describe('opening a picture', () => {
  const told = async (content: BlobPart, name = 'coil.png'): Promise<string> => {
    try {
      await readPicture(new File([content], name));
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
    return 'opened';
  };

  it('says what is wrong with a file that is none', async () => {
    expect(await told('{"format": "offcentre-design"}', 'guide.json')).toBe(
      'picture: must be a PNG or JPEG picture; received “guide.json”, which is neither or is cut short.',
    );
    expect(await told(png(60_000, 60_000) as Uint8Array<ArrayBuffer>)).toMatch(
      /at most 64 million pixels; received 60000 × 60000 px/,
    );
    expect(await told(png(0, 10) as Uint8Array<ArrayBuffer>)).toMatch(/64 million/);
    expect(await told(new Uint8Array(41e6))).toMatch(/at most 40 MB; received 41 MB/);
  });
});

describe('tracing', () => {
  const picture = { name: 'coil.jpg', blob: new Blob(), width: 1000, height: 800 };

  it('begins with a scale within the picture and no point', () => {
    const work = new TraceWork();
    work.open(picture);
    const { points, from, to } = work.marks.value;
    expect(points).toEqual([]);
    for (const [x, y] of [from, to]) expect(x > 0 && x < 1000 && y > 0 && y < 800).toBe(true);
  });

  it('takes a run of key presses back as one step, and every step one by one', () => {
    const work = new TraceWork();
    work.open(picture);
    const start = work.marks.value;
    const at = (x: number) => ({ ...start, points: [[x, 5] as const], selected: 0 });
    work.change(at(10), 'add 0');
    for (const x of [11, 12, 13]) work.change(at(x), 'arrow 0');
    expect(work.past.value).toHaveLength(2);
    work.takeBack();
    expect(work.marks.value).toEqual(at(10));
    work.takeBack();
    expect(work.marks.value).toEqual(start);
    work.takeBack();
    expect(work.marks.value).toEqual(start);
  });

  it('keeps the marks when the same picture is opened again, and starts anew with another', () => {
    const work = new TraceWork();
    work.open(picture);
    work.change({ ...work.marks.value, points: [[1, 2]], selected: 0 }, 'add 0');
    work.open({ ...picture });
    expect(work.marks.value.points).toHaveLength(1);
    work.open({ ...picture, width: 400 });
    expect(work.marks.value.points).toHaveLength(0);
  });
});
