import { maxOutput } from '../../physics/circuit/max-output.ts';
import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import type { Boards, Limit, LinkElectrical, MaxOutput } from '../../physics/circuit/types.ts';

/** What the supply has to do with the largest output current. */
export interface SupplyShare {
  /** Drawn from the supply at the largest output, A, and what the supply gives at most. */
  readonly drawnA: number;
  readonly currentLimitA: number;
  readonly resistanceOhm: number;
  /** Lost in supply, cable and connectors there, V. */
  readonly sagV: number;
  /** How much more the receiver would give without that resistance, A; 0 where another limit holds anyway. */
  readonly sagCostA: number;
  readonly sentence: string;
}

/** Share of the current without sag from which the sag counts as the limit. */
export const SAG_IS_THE_LIMIT = 0.25;

/**
 * The supply's part in the largest output: current, sag, and what the sag costs, by solving again without resistance.
 *
 * @param most what the boards give as they are, tier `exact`
 */
export function supplyShare(link: LinkElectrical, boards: Boards, most: MaxOutput, charging: boolean): SupplyShare {
  const { drive } = boards;
  const resistanceOhm = drive.supplyResistance;
  const at = solveOperatingPoint(link, boards, 0.999 * most.current, { awake: true, charging });
  const stiff: Boards = { ...boards, drive: { ...drive, supplyResistance: 0 } };
  const without = resistanceOhm > 0 ? maxOutput(link, stiff, { charging }).current : most.current;
  // Differences within the solver's own steps are no cost.
  const sagCostA = without - most.current > 2e-3 * without ? without - most.current : 0;
  const share = {
    drawnA: at.supplyA,
    currentLimitA: drive.supplyCurrentLimit,
    resistanceOhm,
    sagV: resistanceOhm * at.supplyA,
    sagCostA,
  };
  return { ...share, sentence: sentenceOf(share, most) };
}

/** The limit to name: the sag where it takes a quarter or more of what the link would give without it. */
export function limitWithSag(most: MaxOutput, share: Omit<SupplyShare, 'sentence'>): Limit {
  const large = share.sagCostA >= SAG_IS_THE_LIMIT * (most.current + share.sagCostA) && share.sagCostA > 0;
  return most.limitedBy === 'link' && large ? 'supplySag' : most.limitedBy;
}

function sentenceOf(share: Omit<SupplyShare, 'sentence'>, most: MaxOutput): string {
  const { drawnA, currentLimitA, sagV, sagCostA, resistanceOhm } = share;
  const draw = `At that load the supply gives ${drawnA.toFixed(2)} of at most ${currentLimitA} A`;
  if (most.limitedBy === 'supplyCurrent')
    return `${draw}: its current limit is what ends it. Take a supply that gives more, or a higher voltage.`;
  if (resistanceOhm === 0) return `${draw}.`;
  const sag = `${resistanceOhm} Ω of supply, cable and connectors take ${sagV.toFixed(2)} V of it`;
  return sagCostA > 0
    ? `${draw}; ${sag}, which costs ${sagCostA.toFixed(2)} A of output.`
    : `${draw}; ${sag}, which costs no output.`;
}
