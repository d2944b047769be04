import { describe, expect, test } from 'vitest';
import { incidentMoments, meanSquareField, ORDERS, solidWireLoss } from '../../../src/physics/conductor/round-array.ts';
import { multipoleAnswers, roundWireFactors } from '../../../src/physics/conductor/round-wire.ts';
import type { Neighbour, Station } from '../../../src/physics/conductor/stations.ts';

/** Straight parallel wires at places (across, up): each sees the others' filaments and a uniform field along z. */
function wires(places: readonly (readonly [number, number])[], uniform: number, current: number): Station[] {
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
        // Current along the tangent with normal x tangent = z: potential -(1/2 pi) ln r, H_z its slope along the normal.
        const [dx, dz] = [x + across - u, z + up - w];
        const factor = current / (2 * Math.PI * (dx * dx + dz * dz));
        out[1] -= factor * dx;
        out[0] += factor * dz;
      });
    },
  }));
}

describe('incident moments', () => {
  test('a filament beside: g_n = (1/2 pi n D^n)', () => {
    const moments = incidentMoments(
      wires(
        [
          [0, 0],
          [3, 0],
        ],
        0,
        1,
      ),
      1,
    );
    for (let n = 1; n <= ORDERS; n++) {
      // -(1/2 pi) ln(D - w) = ... + (1/2 pi) sum w^n / n D^n.
      expect(moments[2 * (n - 1)]).toBeCloseTo(1 / (2 * Math.PI * n * 3 ** n), 6);
      expect(moments[2 * n - 1]).toBeCloseTo(0, 12);
    }
  });

  test('mean square over a disc: of a filament D away, -ln(1 - a^2/D^2) / 4 pi^2 a^2', () => {
    const stations = wires(
      [
        [0, 0],
        [2.2, 0],
      ],
      0,
      1,
    );
    const [square] = meanSquareField(incidentMoments(stations, 1), 1);
    expect(square / (-Math.log(1 - 1 / 2.2 ** 2) / (4 * Math.PI ** 2))).toBeCloseTo(1, 2);
  });
});

describe('solid wires', () => {
  const radius = 0.5;
  test('one wire in a uniform field loses what the cylinder solution says', () => {
    for (const ratio of [0.5, 2, 8]) {
      const stations = wires([[0, 0]], 3, 0);
      const [loss] = solidWireLoss(
        stations,
        incidentMoments(stations, radius),
        radius,
        multipoleAnswers(2 * radius, 1 / ratio, ORDERS),
      );
      const x2 = (2 * radius * ratio) ** 2 / 2;
      // |Im beta_1| = x^2 G / 8, and |p|^2 + |q|^2 = (3 a)^2 / 2.
      expect(loss / ((x2 * roundWireFactors(2 * radius, 1 / ratio).transverse * (3 * radius) ** 2) / 8)).toBeCloseTo(
        1,
        10,
      );
    }
  });

  test('thin wires do not answer each other: losses of many add up from their incident fields', () => {
    const stations = wires(
      [
        [0, 0],
        [1.1, 0],
        [0.4, 1.2],
      ],
      0,
      1,
    );
    const moments = incidentMoments(stations, radius);
    const together = solidWireLoss(stations, moments, radius, multipoleAnswers(1, 30, ORDERS));
    const apart = solidWireLoss(
      stations.map((station) => ({ ...station, neighbours: [] })),
      moments,
      radius,
      multipoleAnswers(1, 30, ORDERS),
    );
    together.forEach((value, s) => {
      expect(value / apart[s]).toBeCloseTo(1, 3);
    });
  });

  test('two perfectly conducting cylinders shield each other in a field along their line, not in one across it', () => {
    // Dipole limit: each moment is 1 / (1 -+ a^2/D^2) of the lone one. Elementary.
    const answers = new Float64Array(2 * ORDERS).map((_, k) => (k === 0 ? -1 : k === 1 ? -1e-6 : 0));
    const gain = (places: [number, number][]) => {
      const stations = wires(places, 1, 0);
      return (
        solidWireLoss(stations, incidentMoments(stations, radius), radius, answers)[0] /
        solidWireLoss(wires([[0, 0]], 1, 0), incidentMoments(wires([[0, 0]], 1, 0), radius), radius, answers)[0]
      );
    };
    const q = (radius / 2) ** 2;
    expect(
      gain([
        [0, 0],
        [2, 0],
      ]),
    ).toBeCloseTo(1 / (1 - q) ** 2, 4);
    expect(
      gain([
        [0, 0],
        [0, 2],
      ]),
    ).toBeCloseTo(1 / (1 + q) ** 2, 4);
  });
});
