import * as v from 'valibot';
import { DESIGN_DEFAULTS, DESIGN_LIMITS } from './defaults.ts';
import { choice, kind, length, list, percent, point, quantity, whole } from './fields.ts';

const OUTER = [0.5, 1000] as const;
const INNER = [0, 1000] as const;

const coilOutline = v.variant('shape', [
  v.strictObject({
    shape: kind('circle'),
    outerDiameterMm: length(...OUTER, "outer diameter, to the conductor's edge"),
    innerDiameterMm: length(...INNER, "inner diameter, to the conductor's edge"),
  }),
  v.strictObject({
    shape: kind('roundedRectangle'),
    outerWidthMm: length(...OUTER, "outer width, to the conductor's edge"),
    outerHeightMm: length(...OUTER, "outer height, to the conductor's edge"),
    innerWidthMm: length(...INNER, "inner width, to the conductor's edge"),
    innerHeightMm: length(...INNER, "inner height, to the conductor's edge"),
    outerCornerRadiusMm: length(0, 500, 'corner radius of the outer edge'),
    innerCornerRadiusMm: v.optional(
      v.nullable(length(0, 500, 'corner radius of the inner edge; null: it follows from the pitch')),
      null,
    ),
  }),
  v.strictObject({
    shape: kind('stadium'),
    outerWidthMm: length(...OUTER, "outer width, to the conductor's edge"),
    outerHeightMm: length(...OUTER, "outer height, to the conductor's edge"),
    innerWidthMm: length(...INNER, "inner width, to the conductor's edge"),
    innerHeightMm: length(...INNER, "inner height, to the conductor's edge"),
  }),
  v.strictObject({
    shape: kind('path'),
    pointsMm: list(
      point(1000, 'point of the outermost turn'),
      3,
      DESIGN_LIMITS.pathPoints,
      'closed centre line of the outermost turn, as points [x, y]; the last joins the first',
    ),
    pitchMm: length(0.01, 100, "distance between neighbouring turns' centre lines"),
  }),
]);

/** Outline of a flat part: ferrite, metal, device. */
export const plateOutline = v.variant('shape', [
  v.strictObject({ shape: kind('circle'), outerDiameterMm: length(...OUTER, 'diameter') }),
  v.strictObject({
    shape: kind('roundedRectangle'),
    outerWidthMm: length(...OUTER, 'width'),
    outerHeightMm: length(...OUTER, 'height'),
    outerCornerRadiusMm: v.optional(length(0, 500, 'corner radius', { guess: { absolute: 2 } }), 0),
  }),
  v.strictObject({
    shape: kind('stadium'),
    outerWidthMm: length(...OUTER, 'width'),
    outerHeightMm: length(...OUTER, 'height'),
  }),
]);

const conductor = v.variant('kind', [
  v.strictObject({
    kind: kind('litz'),
    strands: whole(1, 10000, { label: 'number of strands', unit: 'count' }),
    strandDiameterMm: length(0.005, 2, 'diameter of the copper of one strand'),
    bundleDiameterMm: length(0.01, 30, 'diameter of the bundle with its insulation'),
  }),
  v.strictObject({
    kind: kind('solid'),
    diameterMm: length(0.005, 30, 'diameter of the copper'),
    insulatedDiameterMm: v.optional(
      length(0.005, 33, 'diameter with insulation', {
        guess: { relative: 0.06 },
        derived: '1.1 times the copper diameter',
      }),
    ),
  }),
  v.strictObject({
    kind: kind('trace'),
    widthMm: length(0.01, 100, 'width of the trace'),
    thicknessMm: length(0.001, 5, 'thickness of the copper'),
  }),
]);

/** `transmitter.coil` and `receiver.coil`. */
export const coilSchema = v.strictObject({
  outline: coilOutline,
  turns: quantity(1, DESIGN_LIMITS.turns, {
    label: 'turns in all, over all layers; whole for rings, a spiral may have a fraction',
    unit: 'turns',
  }),
  layers: v.optional(whole(1, DESIGN_LIMITS.layers, { label: 'layers', unit: 'count' }), DESIGN_DEFAULTS.coil.layers),
  layerPitchMm: v.optional(
    length(0.005, 50, 'distance between layer centres', {
      guess: { relative: 0.3 },
      derived: "the conductor's height with insulation (a trace: its thickness plus 0.2 mm)",
    }),
  ),
  filars: v.optional(
    whole(1, DESIGN_LIMITS.filars, { label: 'wires wound side by side and connected in parallel', unit: 'count' }),
    DESIGN_DEFAULTS.coil.filars,
  ),
  winding: v.optional(
    choice(['rings', 'spiral'], 'nested closed turns, or one true spiral'),
    DESIGN_DEFAULTS.coil.winding,
  ),
  conductor,
  inductanceUh: v.optional(
    v.nullable(
      quantity(0.001, 1e6, { label: 'inductance measured alone, with its ferrite; null: computed', unit: 'uH' }),
    ),
    null,
  ),
  resistanceMohm: v.optional(
    v.nullable(
      quantity(0.01, 1e7, { label: 'resistance measured alone, with its ferrite; null: computed', unit: 'mohm' }),
    ),
    null,
  ),
  inductanceTolerancePercent: v.optional(
    percent('tolerance of the inductance'),
    DESIGN_DEFAULTS.coil.inductanceTolerancePercent,
  ),
});

const F = DESIGN_DEFAULTS.ferrite;

export const ferriteSchema = v.strictObject({
  outline: plateOutline,
  thicknessMm: length(0.02, 50, 'thickness'),
  standoffMm: v.optional(
    length(0, 100, "clear distance from the winding's back to the ferrite", { guess: { absolute: 0.2 } }),
    F.standoffMm,
  ),
  standoffToleranceMm: v.optional(
    length(0, 10, 'tolerance of the standoff', { derived: '0.1 mm, or 0.2 mm where the standoff was not given' }),
  ),
  relativePermeability: v.optional(
    quantity(1.5, 20000, { label: 'relative permeability', unit: '1', guess: { relative: 0.6 } }),
    F.relativePermeability,
  ),
  relativePermeabilityTolerancePercent: v.optional(
    percent('tolerance of the permeability', 100, '20 %, or 60 % where the permeability was not given'),
  ),
  lossTangent: v.optional(quantity(0, 1, { label: 'loss tangent', unit: '1', guess: { relative: 1 } }), F.lossTangent),
  saturationMt: v.optional(
    quantity(10, 2500, { label: 'saturation flux density', unit: 'mT', guess: { relative: 0.3 } }),
    F.saturationMt,
  ),
});

export const metalSchema = v.strictObject({
  outline: plateOutline,
  thicknessMm: length(0.001, 100, 'thickness'),
  standoffMm: v.optional(
    length(0, 200, "clear distance from the ferrite's back (the winding's back where there is none)", {
      guess: { absolute: 0.7 },
    }),
    DESIGN_DEFAULTS.metal.standoffMm,
  ),
  conductivityMsPerM: v.optional(
    quantity(0.1, 70, { label: 'conductivity', unit: 'MS/m', guess: { relative: 0.3 } }),
    DESIGN_DEFAULTS.metal.conductivityMsPerM,
  ),
});
