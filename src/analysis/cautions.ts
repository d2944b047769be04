import type { Design } from '../design/types.ts';
import { CAUTION_VOLTAGE } from '../physics/circuit/stress.ts';

/** What an operating point says about danger. V peak, C. */
export interface CautionFacts {
  readonly transmitterCapacitorPeakV: number;
  readonly receiverCapacitorPeakV: number;
  readonly transmitterCoilPeakV: number;
  readonly receiverCoilPeakV: number;
  readonly receiverC: number;
  readonly cellC: number;
  readonly caseC: number;
  readonly transmitterC: number;
}

/** Clear distance that makers of heart implants commonly ask for between implant and small charger, mm. Common practice, no source. */
export const IMPLANT_DISTANCE_MM = 150;
/** Temperature from which a metal part burns the skin within some seconds, C. Common practice, no source. */
export const BURN_C = 60;
/** Below this lithium plates out when a cell is charged, C. Common practice, no source. */
const COLDEST_CHARGE_C = 0;

/**
 * The cautions that this design and operating point call for, the most general first. Each defers to the part's data sheet,
 * local codes or licensed practice; the last one says so for all. Common practice, no source, unless a standard is named.
 *
 * Where they show: `solve`, the report, and in pieces beside the numbers they belong to (see DEVELOPERS.md).
 */
export function cautionsFor(design: Design, facts: CautionFacts): string[] {
  const out = [
    'Metal between the coils (a coin, a key, foil) can grow hot enough to burn. Keep it away, do not rely on the board to notice it, and test with a thermometer.',
    `The field can disturb implants such as pacemakers, defibrillators and insulin pumps. Their makers commonly ask for at least ${IMPLANT_DISTANCE_MM / 10} cm from a charger (common practice, no source); the implant’s own papers and the physician come first.`,
    ...voltageCautions(facts),
    ...cellCautions(design, facts),
    ...heatCautions(design, facts),
  ];
  if (design.holding.magnets)
    out.push(
      'Strong magnets pinch fingers, erase magnetic cards, can stop watches and disturb implants; a swallowed pair can kill. The magnet maker’s sheet comes first.',
    );
  out.push('Local codes, the parts’ data sheets and licensed practice come first.');
  return out;
}

function voltageCautions(facts: CautionFacts): string[] {
  const side = (name: string, capacitorV: number, coilV: number): string[] => {
    const volts = Math.max(capacitorV, coilV);
    if (!(volts > CAUTION_VOLTAGE)) return [];
    return [
      `The ${name}’s series capacitor and coil carry up to ${volts.toFixed(0)} V peak by resonance: do not touch them while powered, and choose parts whose data sheets allow well more at this frequency.`,
    ];
  };
  return [
    ...side('transmitter', facts.transmitterCapacitorPeakV, facts.transmitterCoilPeakV),
    ...side('receiver', facts.receiverCapacitorPeakV, facts.receiverCoilPeakV),
  ];
}

function cellCautions(design: Design, { cellC }: CautionFacts): string[] {
  const { cellChargeMaxC } = design.receiver.thermal;
  const charges = design.demand.loads.some((load) => load.kind === 'charging');
  const out: string[] = [];
  if (charges || cellC > cellChargeMaxC)
    out.push(
      `Charge a lithium cell only inside its data sheet’s limits (commonly not above ${cellChargeMaxC} °C), with a charger and a protection made for it; never charge one that is swollen or damaged.`,
    );
  if (charges && cellC > cellChargeMaxC)
    out.push(
      `Here the cell settles at ${cellC.toFixed(0)} °C, above the ${cellChargeMaxC} °C at which charging must stop.`,
    );
  if (charges && design.demand.ambientC < COLDEST_CHARGE_C)
    out.push(
      `At ${design.demand.ambientC} °C around it a lithium cell must commonly not be charged at all: lithium plates out and can short it.`,
    );
  return out;
}

function heatCautions(design: Design, { receiverC, transmitterC, caseC }: CautionFacts): string[] {
  const { touchMaxC } = design.receiver.thermal;
  const out: string[] = [];
  if (receiverC > BURN_C || transmitterC > BURN_C)
    out.push(
      `A part settles at ${Math.max(receiverC, transmitterC).toFixed(0)} °C: above ${BURN_C} °C it can burn the skin and age a cell beside it.`,
    );
  if (caseC > touchMaxC)
    out.push(
      `The outside of the receiver’s case settles at ${caseC.toFixed(0)} °C, above the ${touchMaxC} °C taken as the most to touch; the product’s safety standard says what is allowed where.`,
    );
  return out;
}
