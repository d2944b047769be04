import { nearest } from '../design/nearest.ts';
import { COMMANDS } from './commands.ts';
import { FileError } from './files.ts';
import { commandHelp, generalHelp } from './help.ts';
import { readOptions } from './options.ts';
import { EXIT, guarded, jsonText, type Terminal, UsageError } from './terminal.ts';

const HELP = { value: null, help: 'this text' };

function entryOf(name: string) {
  const entry = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  if (entry !== undefined) return entry;
  const known = Object.keys(COMMANDS);
  const meant = nearest(name, known);
  throw new UsageError(
    `Unknown command "${name.slice(0, 40)}". ${meant === null ? `Commands: ${known.join(', ')}.` : `Did you mean ${meant}?`}`,
  );
}

async function dispatch(words: readonly string[], terminal: Terminal): Promise<number> {
  const [first, ...rest] = words;
  if (first === undefined || first === '--help' || first === '-h' || first === 'help') {
    const topic = first === 'help' ? rest[0] : undefined;
    terminal.out(topic === undefined ? generalHelp() : commandHelp(topic, entryOf(topic)));
    return first === undefined ? EXIT.usage : EXIT.done;
  }
  if (first.startsWith('-')) throw new UsageError(`The command comes first; received "${first.slice(0, 40)}".`);
  const entry = entryOf(first);
  if (rest.includes('--help') || rest.includes('-h')) {
    terminal.out(commandHelp(first, entry));
    return EXIT.done;
  }
  const given = readOptions(rest, { ...entry.options, help: HELP });
  const [least, most] = entry.files;
  if (given.files.length < least) throw new UsageError(`The command ${first} needs a file: ${first} ${entry.takes}.`);
  if (given.files.length > most) {
    const extra = given.files[most].slice(0, 60);
    throw new UsageError(`The command ${first} takes ${most === 0 ? 'no file' : 'one file'}; "${extra}" is too many.`);
  }
  return (await entry.load())(given, terminal);
}

/** Whether a failure is to stand as an object on standard output too, as faults of the design do. */
function wantsJson(words: readonly string[]): boolean {
  const end = words.indexOf('--');
  return words.slice(0, end < 0 ? undefined : end).includes('--json');
}

/**
 * Runs one command.
 *
 * @param words what stands after the program's name.
 * @returns the exit code. Wrong usage is told on `err`; a bug of ours is thrown.
 */
export async function run(words: readonly string[], unguarded: Terminal): Promise<number> {
  const terminal = guarded(unguarded);
  try {
    return await dispatch(words, terminal);
  } catch (error) {
    if (error instanceof FileError) {
      terminal.err(`${error.message}\n`);
      const fault = {
        code: 'unusable-file',
        path: error.file,
        required: 'a file that can be used',
        received: error.why,
      };
      if (wantsJson(words)) terminal.out(`${jsonText({ ok: false, faults: [fault] })}\n`);
      return EXIT.wrongDesign;
    }
    if (!(error instanceof UsageError)) throw error;
    terminal.err(`${error.message}\nSee: npm run --silent offcentre -- --help\n`);
    return EXIT.usage;
  }
}
