import * as v from 'valibot';
import { DESIGN_DEFAULTS, DESIGN_LIMITS } from './defaults.ts';
import { choice, flag, length, list, percent, point, quantity, text } from './fields.ts';
import { boost, chainStep } from './schema-chain.ts';
import { plateOutline } from './schema-coil.ts';

const H = DESIGN_DEFAULTS.holding;
const M = DESIGN_DEFAULTS.meters;

const name = (label: string) => text(DESIGN_LIMITS.nameLength, label, { minimum: 1 });

const loadSchema = v.strictObject({
  name: name('name of the load'),
  kind: v.optional(choice(['idle', 'typical', 'peak', 'charging'], 'kind of load'), DESIGN_DEFAULTS.load.kind),
  atV: v.optional(
    quantity(0.5, 60, {
      label: 'voltage at which the load takes its current',
      unit: 'V',
      derived: "the receiver's output",
    }),
  ),
  currentA: quantity(0, 50, { label: 'current', unit: 'A' }),
  durationMs: v.optional(
    quantity(0, 1e7, { label: 'how long a peak lasts', unit: 'ms', derived: '1 ms for a peak, else 0' }),
  ),
  hoursPerDay: v.optional(
    quantity(0, 24, { label: 'hours of use in a day', unit: 'h' }),
    DESIGN_DEFAULTS.load.hoursPerDay,
  ),
  through: v.optional(
    list(chainStep, 0, DESIGN_LIMITS.chainSteps, "what stands between the receiver's output and the load"),
    [],
  ),
  alongside: v.optional(list(name('name of a load'), 0, DESIGN_LIMITS.loads, 'loads that run at the same time'), []),
  droopV: v.optional(
    quantity(0.001, 60, { label: 'dip that the load bears during a peak', unit: 'V', guess: { relative: 0.5 } }),
    DESIGN_DEFAULTS.load.droopV,
  ),
  capacitorResistanceOhm: v.optional(
    quantity(0, 20, {
      label: 'series resistance of the capacitor that carries a peak',
      unit: 'ohm',
      guess: { relative: 1 },
    }),
    DESIGN_DEFAULTS.load.capacitorResistanceOhm,
  ),
});

export const demandSchema = v.strictObject({
  ambientC: v.optional(
    quantity(-40, 85, { label: 'ambient temperature', unit: 'degC', guess: { absolute: 5 } }),
    DESIGN_DEFAULTS.demand.ambientC,
  ),
  wantedMarginPercent: v.optional(percent('margin wanted', 1000), DESIGN_DEFAULTS.demand.wantedMarginPercent),
  exposureDistanceMm: v.optional(
    length(5, 2000, 'clear distance from coils and plates at which the field is judged'),
    DESIGN_DEFAULTS.demand.exposureDistanceMm,
  ),
  loads: list(loadSchema, 1, DESIGN_LIMITS.loads, 'what the device asks for'),
  dock: v.optional(
    v.strictObject({
      hoursPerDay: v.optional(
        quantity(0, 24, { label: 'hours on the dock in a day', unit: 'h', guess: { absolute: 4 } }),
        DESIGN_DEFAULTS.dock.hoursPerDay,
      ),
    }),
    {},
  ),
  away: v.optional(
    v.strictObject({
      through: v.optional(
        list(boost, 0, DESIGN_LIMITS.chainSteps, 'what stands between the cell and the loads off the dock'),
        [],
      ),
    }),
    {},
  ),
});

export const layerSchema = v.strictObject({
  name: name('name of the layer'),
  thicknessMm: length(0, 1000, 'thickness'),
  toleranceMm: v.optional(length(0, 100, 'tolerance of the thickness'), DESIGN_DEFAULTS.layerToleranceMm),
});

const R = DESIGN_DEFAULTS.recess;

const recessSchema = v.strictObject({
  outline: plateOutline,
  clearanceMm: v.optional(length(0, 100, 'play on each side between device and pocket'), R.clearanceMm),
  pocketToleranceMm: v.optional(length(0, 10, 'tolerance of the pocket'), R.pocketToleranceMm),
  deviceToleranceMm: v.optional(length(0, 10, 'tolerance of the device'), R.deviceToleranceMm),
  coilPositionToleranceMm: v.optional(
    length(0, 10, "tolerance of the coils' places in dock and device"),
    R.coilPositionToleranceMm,
  ),
  draftDeg: v.optional(quantity(0, 45, { label: "draft of the pocket's walls", unit: 'deg' }), R.draftDeg),
});

const magnetsSchema = v.strictObject({
  positionsMm: list(
    point(1000, 'centre of a magnet'),
    1,
    DESIGN_LIMITS.magnets,
    "centres of the pairs in the receiver's plane",
  ),
  diameterMm: length(0.5, 200, 'diameter of a disc'),
  thicknessMm: length(0.1, 200, 'thickness of a disc'),
  remanenceT: v.optional(
    quantity(0.05, 1.6, { label: 'remanence', unit: 'T', guess: { relative: 0.1 } }),
    DESIGN_DEFAULTS.magnets.remanenceT,
  ),
  facing: v.optional(choice(['magnet', 'steel'], 'what each disc faces'), DESIGN_DEFAULTS.magnets.facing),
  gapMm: v.optional(
    length(0.05, 1000, 'clear distance between the facing discs', {
      guess: { absolute: 1 },
      derived: "the coils' gap: the discs lie flush with the windings",
    }),
  ),
});

const S = DESIGN_DEFAULTS.placing;

export const holdingSchema = v.strictObject({
  recess: v.optional(v.nullable(recessSchema), null),
  magnets: v.optional(v.nullable(magnetsSchema), null),
  deviceMassG: v.optional(
    quantity(0.1, 100000, { label: 'mass of the device', unit: 'g', guess: { relative: 0.5 } }),
    H.deviceMassG,
  ),
  friction: v.optional(
    quantity(0.01, 5, { label: 'coefficient of friction', unit: '1', guess: { relative: 0.4 } }),
    H.friction,
  ),
  tableAngleDeg: v.optional(quantity(0, 90, { label: 'slope of the resting surface', unit: 'deg' }), H.tableAngleDeg),
  placing: v.optional(
    v.strictObject({
      kind: v.optional(choice(['gaussian', 'disc', 'rectangle', 'list'], 'how casual placements scatter'), S.kind),
      sigmaXMm: v.optional(
        length(0, 1000, 'scatter of a casual placement along x', { guess: { relative: 0.5 } }),
        S.sigmaXMm,
      ),
      sigmaYMm: v.optional(
        length(0, 1000, 'scatter of a casual placement along y', { guess: { relative: 0.5 } }),
        S.sigmaYMm,
      ),
      sigmaYawDeg: v.optional(
        quantity(0, 180, { label: 'scatter of a casual placement in yaw', unit: 'deg', guess: { relative: 0.5 } }),
        S.sigmaYawDeg,
      ),
      radiusMm: v.optional(length(0, 1000, 'radius of the disc over which placements lie evenly'), S.radiusMm),
      halfXMm: v.optional(length(0, 1000, 'half the width of the rectangle of even placements'), S.halfXMm),
      halfYMm: v.optional(length(0, 1000, 'half the height of the rectangle of even placements'), S.halfYMm),
      halfYawDeg: v.optional(
        quantity(0, 180, { label: 'largest turn of placements that lie evenly', unit: 'deg' }),
        S.halfYawDeg,
      ),
      placements: v.optional(
        list(
          v.strictObject({
            xMm: length(-1000, 1000, 'offset of a placement along x'),
            yMm: length(-1000, 1000, 'offset of a placement along y'),
            yawDeg: v.optional(quantity(-180, 180, { label: 'turn of a placement', unit: 'deg' }), 0),
          }),
          0,
          DESIGN_LIMITS.placements,
          'placements as they were observed',
        ),
        [],
      ),
    }),
    {},
  ),
});

export const metersSchema = v.strictObject({
  voltagePercent: v.optional(percent('accuracy of the voltmeter, of the reading'), M.voltagePercent),
  voltageCountsMv: v.optional(
    quantity(0, 10000, { label: 'accuracy of the voltmeter, in last digits', unit: 'mV', guess: { relative: 1 } }),
    M.voltageCountsMv,
  ),
  currentPercent: v.optional(percent('accuracy of the ammeter, of the reading'), M.currentPercent),
  currentCountsMa: v.optional(
    quantity(0, 10000, { label: 'accuracy of the ammeter, in last digits', unit: 'mA', guess: { relative: 1 } }),
    M.currentCountsMa,
  ),
});

const given = <T extends ReturnType<typeof quantity>>(field: T) => v.optional(v.nullable(field), null);

export const readingSchema = v.strictObject({
  supplyV: quantity(0, 100, { label: 'supply voltage', unit: 'V' }),
  supplyA: given(quantity(0, 100, { label: 'supply current', unit: 'A' })),
  outputV: given(quantity(0, 200, { label: 'output voltage', unit: 'V' })),
  outputA: given(quantity(0, 100, { label: 'output current', unit: 'A' })),
  gapMm: v.optional(length(0.05, 1000, 'gap', { derived: "the placement's" })),
  offsetXMm: v.optional(length(-1000, 1000, 'offset along x', { derived: "the placement's" })),
  offsetYMm: v.optional(length(-1000, 1000, 'offset along y', { derived: "the placement's" })),
  frequencyKhz: given(quantity(0.1, 100000, { label: 'operating frequency', unit: 'kHz' })),
  rectifiedV: given(quantity(0, 200, { label: 'rectified voltage', unit: 'V' })),
  receiverC: given(quantity(-40, 300, { label: 'temperature of the receiver', unit: 'degC' })),
  transmitterC: given(quantity(-40, 300, { label: 'temperature of the transmitter', unit: 'degC' })),
  regulated: v.optional(flag('the output was in regulation'), DESIGN_DEFAULTS.reading.regulated),
});
