import type { BoardBounds } from './board-bounds.ts';

/** The intervals in words: current, reach, how many boards carry what is asked, and what to find out first. */
export function boundsSentence({ maxOutputA, reachMm, boards, carrying, demandA, alone }: BoardBounds): string {
  const amps = `${maxOutputA.low.value.toFixed(2)} to ${maxOutputA.high.value.toFixed(2)} A`;
  const reach = `${reachMm.low.value.toFixed(1)} to ${reachMm.high.value.toFixed(1)} mm`;
  const share =
    carrying === boards
      ? `All ${boards} boards tried carry`
      : carrying === 0
        ? `None of ${boards} boards tried carries`
        : `${carrying} of ${boards} boards tried ${carrying === 1 ? 'carries' : 'carry'}`;
  const first = alone[0];
  const advice =
    alone.length > 1 && first && first.highA - first.lowA > 0.01 ? ` Find out the ${first.name} first.` : '';
  return `${amps} here, and a reach of ${reach}, by what the boards may be. ${share} the ${demandA.toFixed(2)} A asked with the wanted margin.${advice}`;
}
