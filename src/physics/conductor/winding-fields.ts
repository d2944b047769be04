import { crossSectionOf } from '../coil/cross-section.ts';
import type { Conductor, Winding } from '../coil/types.ts';
import { MU0 } from '../constants.ts';
import { copperResistivity, wireResistance } from './conductor-loss.ts';
import { incidentMoments, meanSquareField, ORDERS, solidWireLoss } from './round-array.ts';
import { multipoleAnswers, skinDepth } from './round-wire.ts';
import { placeStations, STATION_DEFAULTS, type Station, type StationOptions } from './stations.ts';
import { type StripArray, stripArray, stripLoss } from './strip-array.ts';

/** The field across a winding's conductors per ampere, ready for any frequency. */
export interface WindingFields {
  /** Extra resistance by the field of other turns and surroundings (and, for traces, by crowding), ohm. NaN: not settled. */
  readonly resistance: (frequency: number, temperatureC: number) => number;
  /** Squared transverse field per square ampere on each turn, mean over section and length, 1/m2. */
  readonly meanSquare: Float64Array;
}

/** Neighbours answer each other's eddy currents up to this many conductor widths away. */
const REACH_WIDTHS = 4;

/**
 * Field on all conductors of a winding, from its own filaments and from outside, and the loss it causes.
 *
 * Litz: squared field over the bundle, no answer between bundles. Solid wire: exact multipoles of round cylinders that
 * answer the field and each other. Traces: the sheet current across the width, all near traces coupled; the field along
 * the faces acts through the thickness.
 */
export function windingFields(winding: Winding, options: Partial<StationOptions> = STATION_DEFAULTS): WindingFields {
  const settings = { ...STATION_DEFAULTS, ...options };
  const { conductor } = winding.spec;
  const width =
    conductor.kind === 'litz'
      ? conductor.bundleDiameter
      : conductor.kind === 'solid'
        ? conductor.diameter
        : conductor.width;
  const stations = placeStations(winding, REACH_WIDTHS * width, crossSectionOf(conductor, 1).meanDistance, settings);
  const perTurn = (values: Float64Array): Float64Array => {
    const sums = new Float64Array(winding.turns.length);
    const lengths = new Float64Array(winding.turns.length);
    stations.forEach(({ turn, length }, s) => {
      sums[turn] += length * values[s];
      lengths[turn] += length;
    });
    return sums.map((sum, turn) => sum / lengths[turn]);
  };
  const integral = (values: Float64Array): number =>
    stations.reduce((sum, { length }, s) => sum + length * values[s], 0);

  if (conductor.kind === 'trace') {
    const array = stripArray(stations, conductor.width, 1 / winding.spec.filars);
    const along = facesField(stations);
    return {
      meanSquare: perTurn(along.total),
      resistance: (frequency, temperatureC) =>
        stripResistance(conductor, stations, array, frequency, temperatureC, integral) +
        integral(along.faces) * wireResistance(conductor, frequency, temperatureC).perSquareField,
    };
  }
  const radius = width / 2;
  const moments = incidentMoments(stations, radius);
  const meanSquare = meanSquareField(moments, radius);
  if (conductor.kind === 'litz') {
    const total = integral(meanSquare);
    return {
      meanSquare: perTurn(meanSquare),
      resistance: (frequency, temperatureC) =>
        total * wireResistance(conductor, frequency, temperatureC).perSquareField,
    };
  }
  return {
    meanSquare: perTurn(meanSquare),
    resistance(frequency, temperatureC) {
      if (frequency === 0) return 0;
      const depth = skinDepth(copperResistivity(temperatureC), frequency);
      const loss = solidWireLoss(stations, moments, radius, multipoleAnswers(conductor.diameter, depth, ORDERS));
      return 2 * Math.PI * (2 * Math.PI * frequency) * MU0 * integral(loss);
    },
  };
}

function stripResistance(
  { width, thickness }: Extract<Conductor, { kind: 'trace' }>,
  stations: readonly Station[],
  array: StripArray,
  frequency: number,
  temperatureC: number,
  integral: (values: Float64Array) => number,
): number {
  if (frequency === 0) return 0;
  const resistivity = copperResistivity(temperatureC);
  const flux = (width * thickness) / skinDepth(resistivity, frequency) ** 2;
  return (resistivity / (2 * width * thickness)) * integral(stripLoss(stations, array, flux));
}

/** Squared field on the middle of each trace: along its faces, and in all. */
function facesField(stations: readonly Station[]): { faces: Float64Array; total: Float64Array } {
  const faces = new Float64Array(stations.length);
  const total = new Float64Array(stations.length);
  const field = new Float64Array(2);
  stations.forEach((station, s) => {
    station.field(0, 0, field);
    faces[s] = field[0] ** 2;
    total[s] = field[0] ** 2 + field[1] ** 2;
  });
  return { faces, total };
}
