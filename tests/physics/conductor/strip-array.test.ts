import { describe, expect, test } from 'vitest';
import type { Neighbour, Station } from '../../../src/physics/conductor/stations.ts';
import { stripArray, stripLoss } from '../../../src/physics/conductor/strip-array.ts';

/** Straight parallel strips of width 2 at (across, up); filaments' field of the others and a uniform normal field. */
function strips(places: readonly (readonly [number, number])[], uniform: number, current: number): Station[] {
  return places.map(([x, z], s) => ({
    turn: s,
    length: 1,
    neighbours: places.flatMap(([u, w], station): Neighbour[] =>
      station === s ? [] : [{ station, across: u - x, height: w - z, current }],
    ),
    field(across, up, out) {
      out[0] = 0;
      out[1] = uniform;
      places.forEach(([u, w], k) => {
        if (k === s) return;
        const [dx, dz] = [x + across - u, z + up - w];
        out[1] -= (current * dx) / (2 * Math.PI * (dx * dx + dz * dz));
      });
    },
  }));
}

describe('one strip', () => {
  test('slow uniform normal field: loss (omega mu0 H)^2 sigma t w^3 / 12', () => {
    const stations = strips([[0, 0]], 5, 0);
    const flux = 1e-4;
    const [loss] = stripLoss(stations, stripArray(stations, 2, 0), flux);
    // Current density omega mu0 sigma H u: k_1 = flux w H in units of 1/w, as sigma omega mu0 w t = 2 flux.
    expect(loss / ((flux * 2 * 5) ** 2 * (2 / 3))).toBeCloseTo(1, 6);
  });

  test('slow, own current only: crowding by the variance of its own potential', () => {
    // Variance of (1/2 - x) ln(1/2 - x) + (1/2 + x) ln(1/2 + x) over the width: 0.0350219777 (SciPy quadrature).
    const stations = strips([[0, 0]], 0, 0);
    const flux = 1e-4;
    const [loss] = stripLoss(stations, stripArray(stations, 2, 1), flux);
    expect(loss / (2 * (2 * flux) ** 2 * (0.03502197771725816 / (4 * Math.PI ** 2)))).toBeCloseTo(1, 3);
  });

  test('fast: loss grows no faster than the square root of the flux', () => {
    const stations = strips([[0, 0]], 0, 0);
    const array = stripArray(stations, 2, 1);
    const [a, b] = [stripLoss(stations, array, 50)[0], stripLoss(stations, array, 200)[0]];
    expect(b / a).toBeGreaterThan(1);
    expect(b / a).toBeLessThan(2.2);
  });
});

describe('several strips', () => {
  test('two halves edge to edge are one wide strip', () => {
    const [wide, halves] = [
      strips([[0, 0]], 0, 0),
      strips(
        [
          [-1, 0],
          [1, 0],
        ],
        0,
        0.5,
      ),
    ];
    for (const flux of [0.1, 1, 4]) {
      const whole = stripLoss(wide, stripArray(wide, 4, 1), 2 * flux)[0] / 4;
      const parts = stripLoss(halves, stripArray(halves, 2, 0.5), flux);
      expect(parts[0]).toBeCloseTo(parts[1], 6);
      expect((parts[0] + parts[1]) / 2 / whole).toBeCloseTo(1, 2);
    }
  });

  test('a strip of current on top of another drives it little in its middle: loss is symmetric and finite', () => {
    const stations = strips(
      [
        [0, 0],
        [0, 0.5],
      ],
      0,
      1,
    );
    const losses = stripLoss(stations, stripArray(stations, 2, 1), 3);
    expect(losses[0] / losses[1]).toBeCloseTo(1, 6);
  });
});
