import { boardsOf } from '../../design/to-si.ts';
import type { Design } from '../../design/types.ts';
import { receiverLoop, transmitterLoop } from '../../physics/circuit/board-model.ts';
import { poseMatrix } from '../../physics/coil/nodes.ts';
import { type ClearSurface, clearSurface } from '../../physics/exposure/clear-surface.ts';
import { COMMON_OBJECTS, discHeating } from '../../physics/exposure/disc-heating.ts';
import { type HarmonicCircuit, harmonicBounds } from '../../physics/exposure/harmonics.ts';
import { type LargestField, largestField, metDistance } from '../../physics/exposure/largest-field.ts';
import { airFields, type CoilCurrents, rmsField, type UnitFields } from '../../physics/exposure/link-field.ts';
import { type ReferenceLevel, referenceLevels } from '../../physics/exposure/reference-levels.ts';
import { sideBodies } from '../../physics/field/solid-bodies.ts';
import { linkAtPose } from '../link/link-at-pose.ts';
import { type LinkContext, linkContext, poseOfDesign } from '../link/link-context.ts';
import type { PlateSensitivity } from '../margin/plate-sensitivity.ts';
import type { OperatingAnswer, Uncertain } from '../types.ts';
import { currentSpread } from './current-spread.ts';

/** What of an operating point makes the field. */
export type FieldSource = Pick<
  OperatingAnswer,
  | 'frequencyHz'
  | 'duty'
  | 'transmitterCoilARms'
  | 'receiverCoilARms'
  | 'currentCorrelation'
  | 'harmonics'
  | 'rectifiedV'
  | 'transmitterC'
  | 'receiverC'
>;

/** The field against one published level. */
export interface LevelAnswer extends ReferenceLevel {
  /** Largest field at the stated distance over the level. */
  readonly share: Uncertain;
  /** Clear distance from which on the level is met, m. */
  readonly metFromM: Uncertain;
  /** Where that lies against the range that is looked at (5 mm to 2 m). */
  readonly met: 'inside' | 'met at the nearest' | 'not met at the farthest';
}

/** Heat in an object between the coils: an order of magnitude. */
export interface ObjectHeat {
  readonly words: string;
  readonly powerW: number;
}

/** The link's field around it, for information: no certification. SI. */
export interface ExposureReport {
  readonly frequencyHz: number;
  readonly transmitterCoilARms: number;
  readonly receiverCoilARms: number;
  /** Clear distance from the nearest coil or plate, as stated in the design, m. */
  readonly distanceM: number;
  /** Largest resultant rms flux density at that distance, T. */
  readonly largestT: Uncertain;
  /** Where, in the transmitter's frame, m. */
  readonly atM: readonly [number, number, number];
  /**
   * Harmonics at that place, over `largestT`: added in amplitude, as the rule for several frequencies wants it. `known` from the
   * waveform; otherwise a bound.
   */
  readonly harmonics: { readonly share: number; readonly known: boolean };
  readonly levels: readonly LevelAnswer[];
  readonly between: {
    /** Peak flux density half-way between the coils' middles, T. */
    readonly peakT: number;
    readonly objects: readonly ObjectHeat[];
  };
  readonly field: 'in air' | 'with ferrite' | 'with ferrite and metal' | 'with metal';
}

/**
 * How far the field itself may be off at 5 mm and beyond, by what stands behind the coils; the currents come on top. In air it is
 * held to closed forms (tests/physics/exposure). With plates the shares are our own judgement, several times what the same grid
 * misses of L and M against finite elements; the field itself was not compared with outside values.
 */
const FIELD_DOUBT = Object.freeze({
  'in air': 0.002,
  'with ferrite': 0.02,
  'with metal': 0.05,
  'with ferrite and metal': 0.05,
});
/** The search may miss the top by this share (tests/physics/exposure/largest-field). */
const SEARCH_DOUBT = 0.01;
/** A distance is sought with fewer looks. */
const DISTANCE_SEARCH = Object.freeze({ directions: 40, climbs: 1 });

/**
 * The field around a design's link at its operating point against published reference levels, and what it would do to metal
 * between the coils. Some tenths of a second; plates included.
 *
 * @param source the operating point at the design's demand. @param plates how the link answers to the plates' tolerances
 * @returns null where no current flows (a receiver that does not wake: the transmitter's short pings are not worked out)
 * Accuracy: bands hold the tolerances of the inputs through the currents, the field model and the search.
 */
export function exposureReport(
  design: Design,
  source: FieldSource,
  plates: readonly PlateSensitivity[],
): ExposureReport | null {
  const { frequencyHz, transmitterCoilARms, receiverCoilARms } = source;
  if (!(transmitterCoilARms > 0 && Number.isFinite(frequencyHz))) return null;
  const currents: CoilCurrents = {
    transmitterA: transmitterCoilARms,
    receiverA: receiverCoilARms,
    correlation: source.currentCorrelation,
  };
  const context = linkContext(design);
  const pose = poseOfDesign(design);
  const fields = unitFields(context, design);
  const sides = [
    { bodies: sideBodies(context.transmitter, -1), matrix: null },
    { bodies: sideBodies(context.receiver, 1), matrix: poseMatrix(pose) },
  ] as const;
  const around = (distance: number): ClearSurface => clearSurface(sides, distance);
  const distanceM = design.demand.exposureDistanceMm / 1e3;
  const top = largestField(fields, currents, around(distanceM));
  const [x, y, z] = top.at;
  const spread = currentSpread(design, plates, (at) => rmsField(fields, at, x, y, z).rmsT);
  const field = fieldWords(design);
  const own = Math.hypot(FIELD_DOUBT[field], SEARCH_DOUBT);
  const less = Math.min(1, Math.hypot(own, spread.less));
  const more = Math.hypot(own, spread.more);
  let guess = distanceM;
  const largest = (distance: number): number => largestField(fields, currents, around(distance), DISTANCE_SEARCH).rmsT;
  const met = new Map<number, Pick<LevelAnswer, 'metFromM' | 'met'>>();
  const metFor = (level: number): Pick<LevelAnswer, 'metFromM' | 'met'> => {
    const { distance, inRange, fall } = metDistance(largest, level, guess);
    guess = distance;
    const band = (factor: number): number => distance * factor ** (1 / fall);
    const metFromM =
      inRange === 'inside'
        ? { value: distance, low: band(1 - less), high: band(1 + more) }
        : { value: distance, low: distance, high: distance };
    return { metFromM, met: inRange };
  };
  const levels = referenceLevels(frequencyHz).map((level): LevelAnswer => {
    const known = met.get(level.rmsT) ?? metFor(level.rmsT);
    met.set(level.rmsT, known);
    const share = top.rmsT / level.rmsT;
    return { ...level, ...known, share: { value: share, low: share * (1 - less), high: share * (1 + more) } };
  });
  const peakT = Math.SQRT2 * rmsField(fields, currents, pose.x / 2, pose.y / 2, pose.z / 2).rmsT;
  return {
    frequencyHz,
    transmitterCoilARms,
    receiverCoilARms,
    distanceM,
    largestT: { value: top.rmsT, low: top.rmsT * (1 - less), high: top.rmsT * (1 + more) },
    atM: top.at,
    harmonics: harmonicsAt(design, source, fields, top),
    levels,
    between: {
      peakT,
      objects: Object.values(COMMON_OBJECTS).map(({ words, disc }) => ({
        words,
        powerW: discHeating(disc, frequencyHz, peakT).powerW,
      })),
    },
    field,
  };
}

function unitFields(context: LinkContext, design: Design): UnitFields {
  const pose = poseOfDesign(design);
  const { plates, transmitter, receiver } = context;
  if (!plates) return airFields(transmitter.winding, receiver.winding, pose);
  const one = plates.view(pose, 1, 0);
  const two = plates.view(pose, 0, 1);
  return {
    transmitter: (x, y, z, out) => void one.at(x, y, z, out),
    receiver: (x, y, z, out) => void two.at(x, y, z, out),
  };
}

function fieldWords({ transmitter, receiver }: Design): ExposureReport['field'] {
  const ferrite = transmitter.ferrite !== null || receiver.ferrite !== null;
  const metal = transmitter.metal !== null || receiver.metal !== null;
  if (ferrite) return metal ? 'with ferrite and metal' : 'with ferrite';
  return metal ? 'with metal' : 'in air';
}

/** Amplitudes of all harmonics at the place of the largest field over the rms there. */
function harmonicsAt(
  design: Design,
  source: FieldSource,
  fields: UnitFields,
  top: LargestField,
): ExposureReport['harmonics'] {
  const { drive } = boardsOf(design);
  const [x, y, z] = top.at;
  // The method knows odd ones only; a half bridge off half duty has even ones as well.
  if (source.harmonics.length > 0 && (drive.bridge === 'full' || source.duty > 0.499)) {
    const sum = source.harmonics.reduce((total, harmonic) => total + rmsField(fields, harmonic, x, y, z).rmsT, 0);
    return { share: sum / top.rmsT, known: true };
  }
  const perAmpere1 = top.transmitterT / source.transmitterCoilARms;
  const perAmpere2 = source.receiverCoilARms > 0 ? top.receiverT / source.receiverCoilARms : 0;
  const share = harmonicBounds(harmonicCircuit(design, source), source.frequencyHz).reduce(
    (total, { transmitterA, receiverA }) => total + (transmitterA * perAmpere1 + receiverA * perAmpere2) / top.rmsT,
    0,
  );
  return { share, known: false };
}

function harmonicCircuit(design: Design, source: FieldSource): HarmonicCircuit {
  const { drive, pickup } = boardsOf(design);
  const { frequencyHz: frequency } = source;
  const { electrical: link } = linkAtPose(linkContext(design), poseOfDesign(design), 'coarse');
  return {
    l1: link.l1,
    l2: link.l2,
    m: link.m,
    c1: drive.seriesCapacitance,
    cs: pickup.seriesCapacitance,
    r1: transmitterLoop(link, drive, frequency, source.transmitterC),
    r2: receiverLoop(link, pickup, frequency, source.receiverC),
    bridge: drive.bridge,
    duty: source.duty,
    bridgeV: drive.supplyV,
    rectifierV: source.rectifiedV + 2 * pickup.rectifier.dropV,
  };
}
