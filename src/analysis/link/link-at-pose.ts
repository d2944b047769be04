import type { LinkElectrical, ResistanceLaw } from '../../physics/circuit/types.ts';
import type { Pose } from '../../physics/coil/types.ts';
import { couplingWithError } from '../../physics/field/coupling-error.ts';
import type { LinkContext } from './link-context.ts';
import { NO_PLATE_CHANGE, type PlateChange, type PlateLevel } from './plates.ts';

/** The link at one pose: what the circuit needs, and how well it is known. */
export interface LinkAtPose {
  readonly electrical: LinkElectrical;
  readonly air: { readonly l1: number; readonly l2: number; readonly m: number };
  /** Half-widths of the numerical error. */
  readonly errors: { readonly l1: number; readonly l2: number; readonly m: number; readonly coupling: number };
}

export function couplingOf(link: { readonly l1: number; readonly l2: number; readonly m: number }): number {
  return link.m / Math.sqrt(link.l1 * link.l2);
}

/** Solves the pose directly: Neumann integral, and the plates at the level asked for. */
export function linkAtPose(context: LinkContext, pose: Pose, level: PlateLevel): LinkAtPose {
  const air = (level === 'fine' ? context.reference : context.kernel).mutual(pose);
  const change = context.plates ? context.plates.at(pose, level) : NO_PLATE_CHANGE;
  return assembleLink(context, air.value, air.errorEstimate, change);
}

/** Puts air values, the plates' change and measured overrides together. */
export function assembleLink(context: LinkContext, airM: number, airError: number, change: PlateChange): LinkAtPose {
  const { l1: self1, l2: self2, inductanceScale1: s1, inductanceScale2: s2 } = context;
  const scaleM = context.couplingFactor * Math.sqrt(s1 * s2);
  const l1 = (self1.value + change.dL1) * s1;
  const l2 = (self2.value + change.dL2) * s2;
  const m = (airM + change.dM) * scaleM;
  const errors = {
    l1: (self1.errorEstimate + change.errorL1) * s1,
    l2: (self2.errorEstimate + change.errorL2) * s2,
    m: (airError + change.errorM) * scaleM,
  };
  return {
    electrical: {
      l1,
      l2,
      m,
      r1: seriesLaw(context.copper1, context.resistanceScale1, change.core1, change.metal1, context.middleFrequency),
      r2: seriesLaw(context.copper2, context.resistanceScale2, change.core2, change.metal2, context.middleFrequency),
    },
    air: { l1: self1.value, l2: self2.value, m: airM },
    errors: {
      ...errors,
      coupling: context.couplingFactor * couplingError(context, airM, airError, change),
    },
  };
}

/**
 * Copper (scaled to a measurement), core loss (ohm/Hz) and a metal sheet's loss in one law. The sheet's loss is
 * inductance-limited and follows its skin depth, R ~ sqrt(f); over the drive's window its tangent at the middle serves.
 */
function seriesLaw(copper: ResistanceLaw, scale: number, core: number, metal: number, middle: number): ResistanceLaw {
  return {
    dc: copper.dc * scale + metal / 2,
    linear: copper.linear * scale + core + metal / (2 * middle),
    quadratic: copper.quadratic * scale,
    quartic: copper.quartic * scale,
  };
}

/** Error of k: that of the plates, which errors of L and M mostly leave, and those of the values in air. */
function couplingError(context: LinkContext, airM: number, airError: number, change: PlateChange): number {
  const air = { l1: context.l1.value, l2: context.l2.value, mutual: airM };
  const errors = { dL1: change.errorL1, dL2: change.errorL2, dM: change.errorM };
  const plates = context.plates ? couplingWithError({ ...change, errors, grid: change.grid ?? change }, air).error : 0;
  const root = Math.sqrt((air.l1 + change.dL1) * (air.l2 + change.dL2));
  const k = Math.abs(airM + change.dM) / root;
  const own = (context.l1.errorEstimate / air.l1 + context.l2.errorEstimate / air.l2) / 2;
  return plates + airError / root + k * own;
}
