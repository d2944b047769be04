/**
 * Turns a set of orthonormal directions within the space they span so that each has few large components.
 *
 * @param columns `[rows, count]` row-major, orthonormal columns; turned in place.
 * Columns stay orthonormal. Kaiser's criterion: the summed variance of the squared components, raised by plane rotations until none helps.
 * Source: H. F. Kaiser, "The varimax criterion for analytic rotation in factor analysis", Psychometrika 23 (1958) (from memory).
 */
export function varimax(columns: Float64Array, rows: number, count: number): void {
  for (let sweep = 0; sweep < 60; sweep++) {
    let largest = 0;
    for (let p = 0; p < count; p++) {
      for (let q = p + 1; q < count; q++) {
        let a = 0;
        let b = 0;
        let c = 0;
        let d = 0;
        for (let i = 0; i < rows; i++) {
          const x = columns[i * count + p];
          const y = columns[i * count + q];
          const u = x * x - y * y;
          const v = 2 * x * y;
          a += u;
          b += v;
          c += u * u - v * v;
          d += 2 * u * v;
        }
        const angle = Math.atan2(d - (2 * a * b) / rows, c - (a * a - b * b) / rows) / 4;
        if (Math.abs(angle) < 1e-9) continue;
        largest = Math.max(largest, Math.abs(angle));
        const cos = Math.cos(angle);
        const sin = Math.sin(angle);
        for (let i = 0; i < rows; i++) {
          const x = columns[i * count + p];
          const y = columns[i * count + q];
          columns[i * count + p] = cos * x + sin * y;
          columns[i * count + q] = -sin * x + cos * y;
        }
      }
    }
    if (largest < 1e-7) return;
  }
}
