import { describe, expect, test } from 'vitest';
import { circleAxialField } from '../../../src/physics/coil/coaxial-circles.ts';
import { windCoil } from '../../../src/physics/coil/winding.ts';
import { placeStations, STATION_DEFAULTS } from '../../../src/physics/conductor/stations.ts';
import { polygon, RECEIVER, rectanglePoints, rings, solid, TRANSMITTER } from '../coil/coils.ts';

const MU0 = 4e-7 * Math.PI;
const out = new Float64Array(2);

describe('placeStations', () => {
  test('lengths add up to the wire, mirrored or not', () => {
    const cases = [
      windCoil(TRANSMITTER),
      windCoil(RECEIVER),
      polygon(rectanglePoints(40e-3, 30e-3), 3, 1e-3, solid(0.5e-3)),
    ];
    for (const coil of cases) {
      for (const externalField of [null, (_x: number, _y: number, _z: number, field: Float64Array) => field.fill(0)]) {
        for (const externalIsSymmetric of [true, false]) {
          const stations = placeStations(coil, 2e-3, 0.3e-3, { externalField, externalIsSymmetric });
          expect(stations.reduce((sum, { length }) => sum + length, 0)).toBeCloseTo(coil.wireLength, 12);
        }
      }
    }
  });

  test("the field on one of two rings: the other ring's, and its own as the hoop force has it", () => {
    const wire = 0.5e-3;
    const mean = wire * Math.exp(-0.25);
    const [station] = placeStations(rings(20e-3, 15e-3, 2, solid(2 * wire)), 1e-3, mean, STATION_DEFAULTS);
    station.field(0, 0, out);
    // Hoop force per square ampere of a ring of round wire: B = mu0 / 4 pi R (ln(8R/a) - 3/4). Textbook.
    const own = (MU0 / (4 * Math.PI * 20e-3)) * (Math.log((8 * 20e-3) / wire) - 0.75);
    expect((out[1] * MU0) / (own + circleAxialField(15e-3, 20e-3, 0))).toBeCloseTo(1, 2);
    expect(out[0]).toBeCloseTo(0, 6);
  });

  test('an outside field comes in with its parts across the wire only', () => {
    const externalField = (_x: number, _y: number, _z: number, field: Float64Array) => {
      field.set([100, 0, 7]);
    };
    const bare = placeStations(rings(20e-3, 20e-3, 1, solid(1e-3)), 1e-3, 0.4e-3, {
      externalField: null,
      externalIsSymmetric: true,
    });
    const given = placeStations(rings(20e-3, 20e-3, 1, solid(1e-3)), 1e-3, 0.4e-3, {
      externalField,
      externalIsSymmetric: false,
    });
    expect(given).toHaveLength(16);
    bare[0].field(0, 0, out);
    const own = out[1];
    let square = 0;
    for (const station of given) {
      station.field(0, 0, out);
      square += out[0] ** 2 / 16;
      expect(out[1] - own).toBeCloseTo(7, 9);
    }
    // Along the wire for half of the circle's mean square.
    expect(square).toBeCloseTo(5000, 6);
  });

  test('neighbours point at the stations beside', () => {
    const stations = placeStations(windCoil(RECEIVER), 1.5e-3, 0.3e-3, STATION_DEFAULTS);
    for (const station of stations) {
      for (const { station: other, across, height } of station.neighbours) {
        expect(stations[other]).not.toBe(station);
        expect(Math.hypot(across, height)).toBeLessThan(1.5e-3);
        expect(stations[other].turn).not.toBe(station.turn);
      }
    }
  });
});
