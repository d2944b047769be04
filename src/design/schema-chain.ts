import * as v from 'valibot';
import { DESIGN_DEFAULTS, DESIGN_LIMITS } from './defaults.ts';
import { choice, flag, kind, list, percent, quantity } from './fields.ts';

const B = DESIGN_DEFAULTS.boost;
const C = DESIGN_DEFAULTS.cell;

const efficiency = (label: string) => quantity(0.1, 1, { label, unit: '1', guess: { absolute: 0.05 } });

const F = DESIGN_DEFAULTS.feedback;

const kilohm = (minimum: number, label: string) => quantity(minimum, 100_000, { label, unit: 'kohm' });

/** One leg of a divider: (resistor + series + trimmer up to its tap), all of it beside the parallel resistor. */
const leg = v.strictObject({
  resistorKohm: kilohm(0.001, 'resistor of the leg'),
  seriesKohm: v.optional(kilohm(0, 'resistor in series with it'), F.seriesKohm),
  parallelKohm: v.optional(v.nullable(kilohm(0.001, 'resistor across the leg')), F.parallelKohm),
  trimmerKohm: v.optional(kilohm(0, 'whole track of a trimmer in series'), F.trimmerKohm),
  trimmerTurn: v.optional(quantity(0, 1, { label: 'share of the track in use', unit: '1' }), F.trimmerTurn),
});

const feedback = v.strictObject({
  referenceV: v.optional(
    quantity(0.05, 20, { label: "converter's reference voltage", unit: 'V', guess: { relative: 0.02 } }),
    F.referenceV,
  ),
  referenceTolerancePercent: v.optional(percent('tolerance of the reference'), F.referenceTolerancePercent),
  resistorTolerancePercent: v.optional(percent('tolerance of each resistor'), F.resistorTolerancePercent),
  top: leg,
  bottom: leg,
});

/** A boost converter, docked or away. */
export const boost = v.strictObject({
  kind: kind('boost'),
  outputV: v.optional(
    quantity(0.5, 60, {
      label: 'output voltage of the boost converter',
      unit: 'V',
      derived: 'what its feedback divider sets',
    }),
  ),
  efficiency: v.optional(efficiency('efficiency of the boost converter'), B.efficiency),
  sourceResistanceOhm: v.optional(
    quantity(0, 20, {
      label: 'resistance of the source in front of it; behind a cell, the cell has its own',
      unit: 'ohm',
      guess: { relative: 0.6 },
    }),
    B.sourceResistanceOhm,
  ),
  switchBefore: v.optional(
    flag('the switch stands before the converter, so that it draws nothing when off'),
    B.switchBefore,
  ),
  idleCurrentA: v.optional(
    quantity(0, 5, { label: "the converter's own current", unit: 'A', guess: { relative: 0.8 } }),
    B.idleCurrentA,
  ),
  feedback: v.optional(v.nullable(feedback), null),
});

/** One step between the receiver's output and a load. */
export const chainStep = v.variant('kind', [
  boost,
  v.strictObject({
    kind: kind('charger'),
    topology: v.optional(choice(['linear', 'switching'], 'charger'), DESIGN_DEFAULTS.charger.topology),
    efficiency: v.optional(efficiency('efficiency; switching only'), DESIGN_DEFAULTS.charger.efficiency),
    setCurrentA: quantity(0.001, 20, { label: 'charge current set', unit: 'A' }),
    foldbackC: v.optional(
      quantity(30, 200, { label: 'temperature at which it folds back', unit: 'degC', guess: { absolute: 15 } }),
      DESIGN_DEFAULTS.charger.foldbackC,
    ),
    resistanceKPerW: v.optional(
      quantity(0.1, 1000, {
        label: 'thermal resistance to what surrounds it',
        unit: 'K/W',
        guess: { relative: 0.5 },
      }),
      DESIGN_DEFAULTS.charger.resistanceKPerW,
    ),
  }),
  v.strictObject({
    kind: kind('cell'),
    capacityAh: quantity(0.001, 1000, { label: 'capacity', unit: 'Ah' }),
    voltageV: v.optional(
      quantity(0.5, 60, { label: 'voltage at rest', unit: 'V', guess: { absolute: 0.4 } }),
      C.voltageV,
    ),
    resistanceOhm: v.optional(
      quantity(0, 20, { label: 'internal resistance', unit: 'ohm', guess: { relative: 0.6 } }),
      C.resistanceOhm,
    ),
    chargeVoltageV: v.optional(
      quantity(0.5, 80, { label: "charge voltage; the cell's data sheet comes first", unit: 'V' }),
      C.chargeVoltageV,
    ),
    cutoffA: v.optional(
      quantity(0.00005, 50, {
        label: 'current at which charging ends',
        unit: 'A',
        guess: { relative: 0.5 },
        derived: 'a twentieth of the capacity per hour',
      }),
    ),
    emptyV: v.optional(
      quantity(0.3, 80, {
        label: 'voltage at rest when empty',
        unit: 'V',
        guess: { absolute: 0.2 },
        derived: 'a sixth below the charge voltage',
      }),
    ),
    restV: v.optional(
      list(
        v.strictTuple([
          quantity(0, 1, { label: 'charge', unit: '1' }),
          quantity(0.3, 80, { label: 'voltage at rest', unit: 'V' }),
        ]),
        0,
        DESIGN_LIMITS.restPoints,
        'voltage at rest against charge from 0 to 1; without it a straight line from emptyV to the charge voltage',
      ),
      [],
    ),
    selfDischargePercentPerMonth: v.optional(
      quantity(0, 100, {
        label: 'charge lost in a month by itself and to its protection circuit',
        unit: '%',
        guess: { relative: 0.7 },
      }),
      C.selfDischargePercentPerMonth,
    ),
  }),
]);
