import type { BoardBounds } from '../../analysis/pair/board-bounds.ts';
import { boundsSentence } from '../../analysis/pair/board-sentence.ts';
import type { Design } from '../../design/types.ts';
import { formatBand } from '../../units/format.ts';
import type { Command } from '../command.ts';
import { showProgress, tellFailure } from '../engine.ts';
import { openEngine } from '../open-engine.ts';
import { readDesign, tellFaults } from '../read-design.ts';
import { table } from '../table.ts';
import { EXIT, jsonText } from '../terminal.ts';

/** The intervals as text for a terminal. */
export function boundsText(bounds: BoardBounds, design: Design): string {
  const { maxOutputA, reachMm, unknowns, alone } = bounds;
  const amps = (low: number, high: number): string => formatBand(low, high, 'A', { space: ' ', fixedUnit: true });
  return `${design.title}

${boundsSentence(bounds)}

Ends
${table([
  ['least current', maxOutputA.low.board, `limited by ${maxOutputA.low.because}`],
  ['most current', maxOutputA.high.board, `limited by ${maxOutputA.high.because}`],
  ['least reach', reachMm.low.board, ''],
  ['most reach', reachMm.high.board, ''],
])}
Taken for what is not known (common practice, no source)
${table(unknowns.map(({ name, assumption }) => [name, assumption]))}
If one thing alone were unknown, widest first: find that out first
${table(alone.map(({ name, lowA, highA }) => [name, amps(lowA, highA)]))}
`;
}

/** Intervals over plausible boards, for a design that says what it does not know of its own. */
export const bounds: Command = async (given, terminal) => {
  const result = await readDesign(given);
  if (!result.ok) return tellFaults(result.faults, given, terminal);
  const engine = openEngine();
  const outcome = await engine.bounds(result.design, undefined, showProgress());
  engine.dispose();
  if (!outcome.ok) return tellFailure(outcome, given, terminal);
  terminal.out(
    given.values.has('json')
      ? `${jsonText({ ...outcome.value, defaultsTaken: result.defaultsTaken })}\n`
      : boundsText(outcome.value, result.design),
  );
  return EXIT.done;
};
