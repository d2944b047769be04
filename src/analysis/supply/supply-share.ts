import { solveOperatingPoint } from '../../physics/circuit/operating-point.ts';
import type { Boards, Limit, LinkElectrical, MaxOutput } from '../../physics/circuit/types.ts';
import { fastOutput } from '../margin/fast-output.ts';

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
 * The supply's part in the largest output: current, sag, and what the sag costs.
 *
 * @param most what the boards give as they are, tier `exact`
 *
 * The drawn current is the exact circuit's. The cost comes from the first harmonic, as a share of its own largest output,
 * because the pose's answer must not wait for another exact search: within 20 % of the exact cost on 8 typical links limited by the link.
 */
export function supplyShare(link: LinkElectrical, boards: Boards, most: MaxOutput, charging: boolean): SupplyShare {
  const { drive } = boards;
  const resistanceOhm = drive.supplyResistance;
  const stiff: Boards = { ...boards, drive: { ...drive, supplyResistance: 0 } };
  const fast = fastOutput([link], boards, { charging })[0]!;
  const without = resistanceOhm > 0 ? fastOutput([link], stiff, { charging })[0]! : fast;
  const gain = fast > 0 ? without / fast - 1 : 0;
  // Just inside the limit, where the exact solver still holds it.
  const drawnA = solveOperatingPoint(link, boards, 0.998 * most.current, { awake: true, charging }).supplyA;
  const values = {
    drawnA,
    currentLimitA: drive.supplyCurrentLimit,
    resistanceOhm,
    sagV: resistanceOhm * drawnA,
    // Where another limit holds the current, the sag costs nothing; small differences are the solver's own.
    sagCostA: gain > 2e-3 ? gain * most.current : 0,
  };
  return { ...values, sentence: sentenceOf(values, most) };
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
    ? `${draw}; ${sag}, which costs about ${sagCostA.toFixed(2)} A of output.`
    : `${draw}; ${sag}, which costs no output.`;
}
