/** What the first bytes of a picture file say. */
export interface PictureHeader {
  readonly kind: 'png' | 'jpeg';
  /** As stored, px; a camera's turn is not applied. */
  readonly width: number;
  readonly height: number;
}

const PNG = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

/**
 * Kind and size of a PNG or JPEG file, before anything is decoded; null where it is neither or is cut short.
 *
 * Sources: ISO/IEC 15948 (PNG: signature, IHDR first) and ITU-T T.81 (JPEG: markers, frame header), both from memory.
 */
export function pictureHeader(bytes: Uint8Array): PictureHeader | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (PNG.every((byte, i) => bytes[i] === byte)) {
    if (bytes.length < 24 || view.getUint32(12) !== 0x49484452) return null;
    return { kind: 'png', width: view.getUint32(16), height: view.getUint32(20) };
  }
  if (bytes[0] !== 0xff || bytes[1] !== 0xd8) return null;
  let at = 2;
  while (at + 9 < bytes.length && bytes[at] === 0xff) {
    const marker = bytes[at + 1]!;
    // Fill bytes before a marker, and markers without a length.
    if (marker === 0xff) at += 1;
    else if (marker === 0x01 || (marker >= 0xd0 && marker <= 0xd7)) at += 2;
    else if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc)
      return { kind: 'jpeg', height: view.getUint16(at + 5), width: view.getUint16(at + 7) };
    else at += 2 + view.getUint16(at + 2);
  }
  return null;
}
