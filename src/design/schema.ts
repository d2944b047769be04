import * as v from 'valibot';
import { DESIGN_DEFAULTS, DESIGN_LIMITS } from './defaults.ts';
import { length, list, quantity, text } from './fields.ts';
import { driveSchema, pickupSchema, receiverThermalSchema, transmitterThermalSchema } from './schema-boards.ts';
import { coilSchema, ferriteSchema, metalSchema } from './schema-coil.ts';
import { demandSchema, holdingSchema, layerSchema, metersSchema, readingSchema } from './schema-demand.ts';

/** Name and version of the file format. */
export const DESIGN_FORMAT = 'offcentre-design';
export const DESIGN_VERSION = 1;

const P = DESIGN_DEFAULTS.placement;

const degrees = (limit: number, label: string) => quantity(-limit, limit, { label, unit: 'deg' });

const furtherCoil = v.strictObject({
  xMm: length(-1000, 1000, 'centre of a further coil, x'),
  yMm: length(-1000, 1000, 'centre of a further coil, y'),
  heightStepMm: v.optional(length(-100, 100, 'height above the first coil'), DESIGN_DEFAULTS.furtherCoil.heightStepMm),
});

/**
 * The design file, format 1 (design.md is its description, `designJsonSchema` its published form). Keys that depend on
 * others stay undefined here and are filled by `fillDerivedDefaults`.
 */
export const designSchema = v.strictObject({
  format: v.literal(DESIGN_FORMAT),
  version: v.literal(DESIGN_VERSION),
  title: v.optional(text(DESIGN_LIMITS.titleLength, 'title'), DESIGN_DEFAULTS.title),
  notes: v.optional(text(DESIGN_LIMITS.notesLength, 'notes', { lines: true }), DESIGN_DEFAULTS.notes),
  transmitter: v.strictObject({
    coil: coilSchema,
    ferrite: v.optional(v.nullable(ferriteSchema), null),
    metal: v.optional(v.nullable(metalSchema), null),
    furtherCoils: v.optional(
      list(furtherCoil, 0, DESIGN_LIMITS.furtherCoils, 'more coils like the first; one is driven at a time'),
      [],
    ),
    drive: driveSchema,
    thermal: v.optional(transmitterThermalSchema, {}),
  }),
  receiver: v.strictObject({
    coil: coilSchema,
    ferrite: v.optional(v.nullable(ferriteSchema), null),
    metal: v.optional(v.nullable(metalSchema), null),
    pickup: pickupSchema,
    thermal: v.optional(receiverThermalSchema, {}),
    couplingFactor: v.optional(
      quantity(0.5, 1.5, {
        label: 'true coupling over the computed one, as a fit of bench readings finds it',
        unit: '1',
      }),
      DESIGN_DEFAULTS.couplingFactor,
    ),
  }),
  placement: v.optional(
    v.strictObject({
      gapMm: v.optional(length(0.05, 1000, 'gap', { derived: 'the sum of the stack' })),
      offsetXMm: v.optional(length(-1000, 1000, 'offset along x'), P.offsetXMm),
      offsetYMm: v.optional(length(-1000, 1000, 'offset along y'), P.offsetYMm),
      yawDeg: v.optional(degrees(360, 'yaw'), P.yawDeg),
      tiltXDeg: v.optional(degrees(60, 'tilt about x'), P.tiltXDeg),
      tiltYDeg: v.optional(degrees(60, 'tilt about y'), P.tiltYDeg),
    }),
    {},
  ),
  stack: v.optional(list(layerSchema, 0, DESIGN_LIMITS.stackLayers, 'layers that make the gap'), []),
  demand: demandSchema,
  holding: v.optional(holdingSchema, {}),
  meters: v.optional(metersSchema, {}),
  readings: v.optional(list(readingSchema, 0, DESIGN_LIMITS.readings, 'bench readings'), []),
});

/** A design file as it may be written: optional keys left out. */
export type DesignDocument = v.InferInput<typeof designSchema>;

/** After the schema's own defaults, before those that depend on other keys. */
export type PartlyFilledDesign = v.InferOutput<typeof designSchema>;
