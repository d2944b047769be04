import * as v from 'valibot';
import { DESIGN_DEFAULTS } from './defaults.ts';
import { choice, list, percent, quantity } from './fields.ts';
import { DRIVE_UNKNOWNS, PICKUP_UNKNOWNS } from './unknown-board.ts';

const D = DESIGN_DEFAULTS.drive;
const P = DESIGN_DEFAULTS.pickup;
const R = DESIGN_DEFAULTS.regulator;
const T = DESIGN_DEFAULTS.receiverThermal;

const kelvinPerWatt = (label: string) => quantity(0.01, 1000, { label, unit: 'K/W', guess: { relative: 0.5 } });

const celsius = (minimum: number, maximum: number, label: string, absolute: number) =>
  quantity(minimum, maximum, { label, unit: 'degC', guess: { absolute } });

/** `transmitter.drive`. */
export const driveSchema = v.strictObject({
  supplyV: quantity(0.5, 60, { label: 'supply voltage', unit: 'V' }),
  supplyTolerancePercent: v.optional(percent('tolerance of the supply voltage', 50), D.supplyTolerancePercent),
  supplyResistanceOhm: v.optional(
    quantity(0, 10, { label: 'resistance of supply, cable and connectors', unit: 'ohm', guess: { absolute: 0.1 } }),
    D.supplyResistanceOhm,
  ),
  supplyCurrentLimitA: v.optional(
    quantity(0.01, 50, { label: 'most the supply gives', unit: 'A', guess: { relative: 0.33 } }),
    D.supplyCurrentLimitA,
  ),
  bridge: v.optional(choice(['full', 'half'], 'bridge'), D.bridge),
  control: v.optional(
    choice(
      ['frequency', 'duty', 'supply'],
      'what the controller moves: frequency then duty, duty, or the bridge supply',
    ),
    D.control,
  ),
  supplyMinFraction: v.optional(
    quantity(0.05, 1, {
      label: 'least bridge supply, share of the supply voltage, where the controller moves it',
      unit: '1',
      guess: { relative: 0.3 },
    }),
    D.supplyMinFraction,
  ),
  seriesCapacitanceNf: quantity(0.01, 1e6, { label: 'series capacitance', unit: 'nF' }),
  seriesCapacitanceTolerancePercent: v.optional(
    percent('tolerance of the series capacitance, with bias and temperature', 90),
    D.seriesCapacitanceTolerancePercent,
  ),
  seriesCapacitorResistanceOhm: v.optional(
    quantity(0, 10, { label: 'resistance of the series capacitor', unit: 'ohm', guess: { relative: 1 } }),
    D.seriesCapacitorResistanceOhm,
  ),
  frequencyMinKhz: v.optional(
    quantity(1, 10000, { label: 'lowest frequency', unit: 'kHz', guess: { relative: 0.05 } }),
    D.frequencyMinKhz,
  ),
  frequencyMaxKhz: v.optional(
    quantity(1, 10000, { label: 'highest frequency', unit: 'kHz', guess: { relative: 0.05 } }),
    D.frequencyMaxKhz,
  ),
  frequencyTolerancePercent: v.optional(
    percent('tolerance of the frequency limits', 50, '1 %, or 5 % where the limits were not given'),
  ),
  dutyMin: v.optional(
    quantity(0.01, 1, {
      label: 'least duty: fraction of each half cycle (full bridge) or of the cycle on the high side (half bridge)',
      unit: '1',
      derived: '1 for a full bridge, 0.5 for a half: duty is not used for control',
    }),
  ),
  switchResistanceOhm: v.optional(
    quantity(0, 10, { label: 'on-resistance of one switch', unit: 'ohm', guess: { relative: 0.6 } }),
    D.switchResistanceOhm,
  ),
  coilCurrentLimitA: v.optional(
    quantity(0.01, 100, { label: 'limit of the coil current, rms', unit: 'A', guess: { relative: 0.3 } }),
    D.coilCurrentLimitA,
  ),
  idleCurrentA: v.optional(
    quantity(0, 5, { label: "the board's own current", unit: 'A', guess: { relative: 0.8 } }),
    D.idleCurrentA,
  ),
  gateChargeNc: v.optional(
    quantity(0, 10000, { label: 'gate charge drawn from the supply each cycle', unit: 'nC', guess: { relative: 0.8 } }),
    D.gateChargeNc,
  ),
  deadTimeNs: v.optional(
    quantity(0, 5000, { label: 'dead time between the switches of one leg', unit: 'ns', guess: { relative: 0.6 } }),
    D.deadTimeNs,
  ),
  pingKhz: v.optional(
    quantity(1, 10000, {
      label: 'frequency at which the transmitter looks for a receiver',
      unit: 'kHz',
      guess: { relative: 0.1 },
      derived: '175 kHz, or the nearer end of the frequency window where that lies outside',
    }),
  ),
  standbyW: v.optional(
    quantity(0, 50, { label: 'power drawn with nothing on the dock', unit: 'W', guess: { relative: 0.8 } }),
    D.standbyW,
  ),
  unknown: v.optional(
    list(
      choice(DRIVE_UNKNOWNS, 'something that is not known of the board'),
      0,
      DRIVE_UNKNOWNS.length,
      'what is not known of the transmitter board; the stated values are guesses then, and the bands widen',
    ),
    [],
  ),
});

export const transmitterThermalSchema = v.strictObject({
  resistanceKPerW: v.optional(
    kelvinPerWatt("temperature rise per watt of the transmitter's loss"),
    DESIGN_DEFAULTS.transmitterThermal.resistanceKPerW,
  ),
});

const rectifierSchema = v.strictObject({
  kind: v.optional(choice(['synchronous', 'diode'], 'rectifier'), P.rectifierKind),
  dropV: v.optional(
    quantity(0, 2, {
      label: 'drop of one device; two conduct in series',
      unit: 'V',
      guess: { relative: 0.6 },
      derived: '0.05 V synchronous, 0.35 V diode',
    }),
  ),
  resistanceOhm: v.optional(
    quantity(0, 10, { label: 'resistance of one device', unit: 'ohm', guess: { relative: 0.6 } }),
    P.rectifierResistanceOhm,
  ),
});

const regulatorSchema = v.strictObject({
  kind: v.optional(choice(['linear', 'switching'], 'regulator'), R.kind),
  outputV: quantity(0.5, 60, { label: 'regulated output voltage', unit: 'V' }),
  dropoutV: v.optional(
    quantity(0, 5, { label: 'drop-out at no load', unit: 'V', guess: { absolute: 0.1 } }),
    R.dropoutV,
  ),
  dropoutOhm: v.optional(
    quantity(0, 20, { label: 'drop-out per ampere', unit: 'ohm', guess: { relative: 0.6 } }),
    R.dropoutOhm,
  ),
  currentLimitA: v.optional(
    quantity(0.001, 50, { label: 'current limit', unit: 'A', guess: { relative: 0.25 } }),
    R.currentLimitA,
  ),
  idleCurrentA: v.optional(
    quantity(0, 5, { label: "the regulator's own current", unit: 'A', guess: { relative: 0.8 } }),
    R.idleCurrentA,
  ),
  overvoltageV: v.optional(
    quantity(1, 200, {
      label: 'rectified voltage at which the receiver protects itself',
      unit: 'V',
      guess: { relative: 0.2 },
      derived: '15 V, or 1.5 times the output where that is more',
    }),
  ),
  efficiency: v.optional(
    quantity(0.1, 1, { label: 'conversion efficiency; switching only', unit: '1', guess: { absolute: 0.05 } }),
    R.efficiency,
  ),
});

const targetSchema = v.strictObject({
  lowV: v.optional(
    quantity(0.5, 200, {
      label: 'rectified voltage the receiver asks for at full load',
      unit: 'V',
      guess: { absolute: 0.15 },
      derived: 'the output voltage plus 0.3 V',
    }),
  ),
  highV: v.optional(
    quantity(0.5, 200, {
      label: 'rectified voltage the receiver asks for at no load',
      unit: 'V',
      guess: { relative: 0.1 },
      derived: 'the output voltage plus 2 V, at least lowV',
    }),
  ),
  decayA: v.optional(
    quantity(0.001, 10, {
      label: 'load current over which the target falls by 1/e',
      unit: 'A',
      guess: { relative: 0.7 },
    }),
    P.targetDecayA,
  ),
});

const stopSchema = v.strictObject({
  minimumRectifiedV: v.optional(
    v.nullable(quantity(0.1, 200, { label: 'rectified voltage below which the link stops; null: none', unit: 'V' })),
    null,
  ),
  foreignObjectLossW: v.optional(
    v.nullable(quantity(0.01, 50, { label: 'unexplained loss that stops the transmitter; null: none', unit: 'W' })),
    null,
  ),
  minimumLoadA: v.optional(
    v.nullable(quantity(0, 10, { label: 'load current below which the link stops; null: none', unit: 'A' })),
    null,
  ),
});

/** `receiver.pickup`. */
export const pickupSchema = v.strictObject({
  seriesCapacitanceNf: quantity(0.01, 1e6, { label: 'series capacitance', unit: 'nF' }),
  seriesCapacitanceTolerancePercent: v.optional(
    percent('tolerance of the series capacitance, with bias and temperature', 90),
    P.seriesCapacitanceTolerancePercent,
  ),
  seriesCapacitorResistanceOhm: v.optional(
    quantity(0, 10, { label: 'resistance of the series capacitor', unit: 'ohm', guess: { relative: 1 } }),
    P.seriesCapacitorResistanceOhm,
  ),
  parallelCapacitanceNf: v.optional(
    quantity(0, 1e5, { label: 'capacitance across the rectifier; 0: none', unit: 'nF', guess: { absolute: 2 } }),
    P.parallelCapacitanceNf,
  ),
  reservoirCapacitanceUf: v.optional(
    quantity(0.01, 1e5, { label: 'reservoir behind the rectifier', unit: 'uF', guess: { relative: 0.6 } }),
    P.reservoirCapacitanceUf,
  ),
  wakeV: v.optional(
    quantity(0.1, 100, { label: 'rectified voltage at which the receiver wakes', unit: 'V', guess: { absolute: 1 } }),
    P.wakeV,
  ),
  rectifier: v.optional(rectifierSchema, {}),
  regulator: regulatorSchema,
  target: v.optional(targetSchema, {}),
  stop: v.optional(v.nullable(stopSchema), null),
  unknown: v.optional(
    list(
      choice(PICKUP_UNKNOWNS, 'something that is not known of the board'),
      0,
      PICKUP_UNKNOWNS.length,
      'what is not known of the receiver board; the stated values are guesses then, and the bands widen',
    ),
    [],
  ),
});

export const receiverThermalSchema = v.strictObject({
  resistanceKPerW: v.optional(kelvinPerWatt("temperature rise per watt of the receiver's loss"), T.resistanceKPerW),
  shutdownC: v.optional(celsius(30, 200, 'receiver temperature at which it shuts down', 10), T.shutdownC),
  toCellKPerW: v.optional(kelvinPerWatt('thermal resistance from receiver to cell'), T.toCellKPerW),
  cellToAmbientKPerW: v.optional(kelvinPerWatt('thermal resistance from cell to ambient'), T.cellToAmbientKPerW),
  cellChargeMaxC: v.optional(
    celsius(20, 100, "highest cell temperature for charging; the cell's data sheet comes first", 0),
    T.cellChargeMaxC,
  ),
  touchMaxC: v.optional(celsius(20, 120, 'highest touch temperature', 0), T.touchMaxC),
});
