/** Line segments whose ends carry an opacity, 0..1. */
export interface FadingSegments {
  /** [2 n, 3] row-major, metres, in the plane z = 0. */
  readonly positions: Float32Array;
  readonly opacity: Float32Array;
}

/**
 * A square grid on the table that fades out with distance from the origin: the scale of the drawing.
 * @param pitch between lines, m.
 * @param radius at which nothing is left, m.
 * @param strong opacity of the two lines through the origin; the others get a third of it.
 */
export function groundGrid(pitch: number, radius: number, strong: number): FadingSegments {
  const positions: number[] = [];
  const opacity: number[] = [];
  const fade = (x: number, y: number): number => Math.max(0, 1 - Math.hypot(x, y) / radius) ** 1.5;
  const lines = Math.floor(radius / pitch);
  for (let i = -lines; i <= lines; i++) {
    const weight = i === 0 ? strong : strong / 3;
    for (let j = -lines; j < lines; j++) {
      for (const [ax, ay, bx, by] of [
        [j * pitch, i * pitch, (j + 1) * pitch, i * pitch],
        [i * pitch, j * pitch, i * pitch, (j + 1) * pitch],
      ] as const) {
        const a = fade(ax, ay) * weight;
        const b = fade(bx, by) * weight;
        if (a <= 0 && b <= 0) continue;
        positions.push(ax, ay, 0, bx, by, 0);
        opacity.push(a, b);
      }
    }
  }
  return { positions: Float32Array.from(positions), opacity: Float32Array.from(opacity) };
}
