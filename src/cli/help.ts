import type { CommandEntry } from './command.ts';
import { COMMANDS } from './commands.ts';

const CALL = 'npm run --silent offcentre --';

function rows(entries: readonly (readonly [string, string])[]): string {
  const width = Math.max(...entries.map(([left]) => left.length));
  return entries.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`).join('\n');
}

export function generalHelp(): string {
  return `Offcentre: how far off centre can it sit before the power runs out?

Usage: ${CALL} COMMAND [DESIGN.json] [options]

Commands:
${rows(Object.entries(COMMANDS).map(([name, entry]) => [name, entry.summary] as const))}

Every command explains itself: ${CALL} COMMAND --help
Exit codes: 0 done, 1 the design is wrong, 2 wrong usage, 3 did not converge.
`;
}

export function commandHelp(name: string, entry: CommandEntry): string {
  const options = Object.entries(entry.options).map(
    ([key, rule]) => [`--${key}${rule.value === null ? '' : ` ${rule.value}`}`, rule.help] as const,
  );
  return `offcentre ${name}: ${entry.summary}

Usage: ${CALL} ${name} ${entry.takes}${entry.takes === '' ? '' : ' '}[options]

${rows(options)}
${entry.notes === undefined ? '' : `\n${entry.notes}\n`}`;
}
