/** What `hold` says about magnets. */
import type { Design } from '../../design/types.ts';
import { magnetCautions, PINCH_WARNING, pullLimits } from '../../physics/magnet/cautions.ts';
import { type MagnetHeating, magnetHeating } from '../../physics/magnet/eddy-heating.ts';
import {
  checkLayout,
  HOME,
  layoutForce,
  layoutStiffness,
  type MagnetLayout,
} from '../../physics/magnet/magnet-layout.ts';
import { layoutProfile } from '../../physics/magnet/pair-profile.ts';
import { withPlateForces } from '../../physics/magnet/plate-force-map.ts';
import type { PlateFlux } from '../../physics/magnet/saturation.ts';
import { steelPlatePull } from '../../physics/magnet/steel-plate.ts';
import { type ForceTable, forceTable, type TippingAt, type TurnTable, turnTable } from './force-tables.ts';
import { type HoldingAnswer, type HoldingBody, holdDevice, restPolygon } from './holding.ts';
import { type HoldingSpread, holdingSpread } from './holding-spread.ts';
import type { CoilFieldAtMagnets } from './magnet-coil-field.ts';
import type { ferriteOf } from './magnet-ferrite.ts';
import type { SaturationEffect } from './magnet-saturation.ts';
import { contactRadiusOf, layoutOf } from './magnet-setup.ts';
import { polygonInside, type Ring } from './ring-geometry.ts';

export interface MagnetReport {
  readonly pairs: number;
  readonly facing: 'magnet' | 'steel';
  /** Forces along +x and along +y from home, ferrite included where it could be. mm, N. */
  readonly alongX: ForceTable;
  readonly alongY: ForceTable;
  /** Along +x without ferrite: the limit of no ferrite. */
  readonly airAlongX: ForceTable;
  /** Torque against a turn at home; the plates' part of it is left out. */
  readonly overTurn: TurnTable;
  readonly holding: HoldingAnswer;
  /** How far it may be off, by friction and remanence. */
  readonly spread: HoldingSpread;
  /** N/m and N m/rad at home, without ferrite; null for steel. */
  readonly stiffness: { readonly sidewaysX: number; readonly sidewaysY: number; readonly yaw: number } | null;
  /** Rest band, mm, flat x y about the resting place. */
  readonly restBandMm: Float64Array;
  /** Whether the rest band lies wholly in the safe region; null where there is no map or no band. */
  readonly restBandIsSafe: boolean | null;
  readonly contactPerPairN: number;
  readonly contactPressureKPa: number;
  /** Contact pull above which a pinch is worth a warning, N: common practice. */
  readonly pinchFromN: number;
  /** Share of the pull at home that comes from the ferrite. */
  readonly ferriteShare: number;
  readonly flux: { readonly dock: PlateFlux | null; readonly device: PlateFlux | null };
  /** Pull at home with the ferrite as the flux leaves it, N; null where that was not worked out. */
  readonly pullSaturatedN: number | null;
  /** For steel: pull of an endless plate, and the thickness that carries the flux. */
  readonly steel: { readonly largePlatePullN: number; readonly thicknessNeededMm: number } | null;
  /** Heat in one magnet, the one in the strongest field. */
  readonly heating: (MagnetHeating & { readonly peakT: number; readonly frequencyHz: number }) | null;
  /** What the magnets' flux in the ferrite does to L, k and margin; null: not asked, or no ferrite. */
  readonly saturation: SaturationEffect | null;
  readonly notes: readonly string[];
  readonly cautions: readonly string[];
}

export interface MagnetReportOptions {
  /** What ferrite makes of the magnets (`wholeFerrite`, or its steps); null: magnets alone. */
  readonly ferrite: ReturnType<typeof ferriteOf>;
  /** Safe outline of the map at the design's gap, mm about the transmitter's axis; null: none. */
  readonly safeOutline: readonly Ring[] | null;
  /** Peak flux density of the coil's field at the magnets and its frequency; null: not known. */
  readonly coilField: CoilFieldAtMagnets | null;
  /** Effect of the plates' flux on the link; null: not asked. */
  readonly saturation: SaturationEffect | null;
}

export const MAGNET_REPORT_DEFAULTS: MagnetReportOptions = Object.freeze({
  ferrite: null,
  safeOutline: null,
  coilField: null,
  saturation: null,
});

/** Points of a force table. */
const TABLE_POINTS = 61;
/** Largest turn of the torque table, rad. */
const MOST_TURN = Math.PI / 6;

/** Everything about the design's magnets; null where it has none. @throws InputError for a layout that cannot be. */
export function magnetReport(design: Design, options: Partial<MagnetReportOptions> = {}): MagnetReport | null {
  const { ferrite, safeOutline, coilField, saturation } = { ...MAGNET_REPORT_DEFAULTS, ...options };
  const { magnets } = design.holding;
  if (!magnets) return null;
  const layout = layoutOf(magnets);
  checkLayout(layout);
  const reach = 4 * layout.upper.radius + 2 * layout.gap;
  const air = layoutProfile(layout, reach);
  const force = ferrite?.map ? withPlateForces(air, ferrite.map) : air;
  const body: HoldingBody = {
    massKg: design.holding.deviceMassG / 1e3,
    friction: design.holding.friction,
    slope: (design.holding.tableAngleDeg * Math.PI) / 180,
    contactRadius: contactRadiusOf(design),
  };
  const holding = holdDevice(force, body, { reach });
  const rest = restPolygon(holding);
  const placed = rest.map((v, k) => v + (k % 2 === 0 ? design.placement.offsetXMm : design.placement.offsetYMm));
  const limits = pullLimits(layout);
  const notes = [...(ferrite?.notes ?? [])];
  if (magnets.facing === 'steel')
    notes.push(
      'Each magnet is taken to face a steel disc of its own diameter and thickness, unsaturated. A disc of that size does not centre the magnet: wider steel pulls more, a magnet in its place centres.',
    );
  if (holding.restBandMm === null)
    notes.push('Friction holds the device wherever it is put: these magnets hold it down but do not bring it home.');
  if (holding.wrongSeatsMm.length > 0)
    notes.push(
      'Put down about one magnet spacing off, the device may settle with the wrong magnets facing each other.',
    );
  const tipping: TippingAt = (x, y, c, s) => {
    const { tx, ty } = layoutForce(layout, { ...HOME, x, y });
    return c * ty - s * tx;
  };
  const { dock = null, device = null } = ferrite?.flux ?? {};
  const out = new Float64Array(4);
  const airPull = air(0, 0, 0, out)[2];
  return {
    pairs: magnets.positionsMm.length,
    facing: magnets.facing,
    alongX: forceTable(force, body, 0, reach, TABLE_POINTS, tipping),
    alongY: forceTable(force, body, Math.PI / 2, reach, TABLE_POINTS, tipping),
    airAlongX: forceTable(air, body, 0, reach, TABLE_POINTS, tipping),
    overTurn: turnTable(force, body, MOST_TURN, TABLE_POINTS),
    holding,
    spread: holdingSpread(design, force, body, { reach }, holding),
    stiffness: magnets.facing === 'magnet' ? layoutStiffness(layout) : null,
    restBandMm: rest,
    restBandIsSafe: safeOutline && rest.length > 0 ? polygonInside(safeOutline, placed) : null,
    contactPerPairN: limits.contactPerPairN,
    contactPressureKPa: limits.contactPressurePa / 1e3,
    pinchFromN: PINCH_WARNING,
    ferriteShare: holding.pullN !== 0 ? 1 - airPull / holding.pullN : 0,
    flux: { dock, device },
    pullSaturatedN: ferrite?.flux?.pullN ?? null,
    steel: magnets.facing === 'steel' ? steelOf(layout) : null,
    heating: coilField
      ? { ...magnetHeating(layout.upper, coilField.frequencyHz, coilField.peakT), ...coilField }
      : null,
    saturation,
    notes,
    cautions: magnetCautions(layout),
  };

  function steelOf(of: MagnetLayout): MagnetReport['steel'] {
    const plate = steelPlatePull(of.upper, of.gap, 10 * of.upper.radius);
    return {
      largePlatePullN: plate.pull * (of.positions.length / 2),
      thicknessNeededMm: plate.thicknessNeeded * 1e3,
    };
  }
}
