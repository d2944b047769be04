import type { Design } from '../design/types.ts';
import { CAUTION_VOLTAGE } from '../physics/circuit/stress.ts';

/** A caution that goes with an answer; the part's data sheet, local codes and licensed practice come first. */
export interface CautionFacts {
  readonly transmitterCapacitorPeakV: number;
  readonly receiverCapacitorPeakV: number;
  readonly transmitterCoilPeakV: number;
  readonly receiverCoilPeakV: number;
  readonly receiverC: number;
  readonly cellC: number;
  readonly transmitterC: number;
}

/** The cautions that this design and operating point call for. */
export function cautionsFor(design: Design, facts: CautionFacts): string[] {
  const out = [
    'Metal between the coils (a coin, a key, foil) can grow hot enough to burn. Keep it away and do not rely on the board to notice it.',
    'The field can disturb implants such as pacemakers. Keep the distance the implant’s maker states.',
  ];
  const side = (name: string, capacitorV: number, coilV: number): void => {
    const volts = Math.max(capacitorV, coilV);
    if (volts > CAUTION_VOLTAGE)
      out.push(
        `The ${name}’s series capacitor and coil carry up to ${volts.toFixed(0)} V peak: do not touch them while powered, and choose parts rated well above it.`,
      );
  };
  side('transmitter', facts.transmitterCapacitorPeakV, facts.transmitterCoilPeakV);
  side('receiver', facts.receiverCapacitorPeakV, facts.receiverCoilPeakV);
  if (
    facts.cellC > design.receiver.thermal.cellChargeMaxC ||
    design.demand.loads.some((load) => load.kind === 'charging')
  )
    out.push(
      `Charge a lithium cell only inside its data sheet’s limits (commonly not above ${design.receiver.thermal.cellChargeMaxC} °C); never charge one that is swollen or damaged.`,
    );
  if (facts.receiverC > 60 || facts.transmitterC > 60)
    out.push('A part settles above 60 °C: it can burn the skin and age a cell beside it.');
  if (design.holding.magnets)
    out.push('Strong magnets pinch fingers, erase magnetic cards and can stop watches and implants.');
  out.push('Local codes, the parts’ data sheets and licensed practice come first.');
  return out;
}
