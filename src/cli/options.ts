import { nearest } from '../design/nearest.ts';
import { UsageError } from './terminal.ts';

/** What an option takes. */
interface OptionRule {
  /** Name of its value in the help; null for a switch. */
  readonly value: string | null;
  readonly many?: boolean;
  readonly help: string;
}

export type OptionRules = Readonly<Record<string, OptionRule>>;

export interface GivenOptions {
  readonly files: readonly string[];
  /** Values in order; a switch has one empty text. */
  readonly values: ReadonlyMap<string, readonly string[]>;
}

function unknownOption(name: string, rules: OptionRules): UsageError {
  const meant = nearest(name, Object.keys(rules));
  const known = Object.keys(rules).map((key) => `--${key}`);
  return new UsageError(
    `Unknown option --${name.slice(0, 40)}. ${meant === null ? `Options: ${known.join(', ')}.` : `Did you mean --${meant}?`}`,
  );
}

/**
 * Reads the words after the command: files, `--name value`, `--name=value`, `--name` for a switch; after `--` all are
 * files.
 *
 * @throws UsageError naming the option.
 */
export function readOptions(words: readonly string[], rules: OptionRules): GivenOptions {
  const files: string[] = [];
  const values = new Map<string, string[]>();
  for (let i = 0; i < words.length; i++) {
    const word = words[i];
    if (word === '--') {
      files.push(...words.slice(i + 1));
      break;
    }
    if (!word.startsWith('--')) {
      if (word.startsWith('-') && word.length > 1) throw unknownOption(word.replace(/^-+/, ''), rules);
      files.push(word);
      continue;
    }
    const equals = word.indexOf('=');
    const name = word.slice(2, equals === -1 ? undefined : equals);
    const rule = Object.hasOwn(rules, name) ? rules[name] : undefined;
    if (rule === undefined) throw unknownOption(name, rules);
    let value = equals === -1 ? '' : word.slice(equals + 1);
    if (rule.value === null && equals !== -1) throw new UsageError(`Option --${name} takes no value.`);
    if (rule.value !== null && equals === -1) {
      const next = words[++i];
      if (next === undefined || (next.startsWith('--') && next.length > 2)) {
        throw new UsageError(`Option --${name} needs ${rule.value}: ${rule.help}.`);
      }
      value = next;
    }
    const before = values.get(name) ?? [];
    if (before.length > 0 && !rule.many) throw new UsageError(`Option --${name} was given twice.`);
    values.set(name, [...before, value]);
  }
  return { files, values };
}

/** The number of an option, or null where it was not given. @throws UsageError outside the range. */
export function numberOption(
  given: GivenOptions,
  name: string,
  range: { readonly low: number; readonly high: number; readonly whole?: boolean; readonly unit?: string },
): number | null {
  const text = given.values.get(name)?.[0];
  if (text === undefined) return null;
  const value = text.trim() === '' ? Number.NaN : Number(text.replace(',', '.'));
  if (
    Number.isFinite(value) &&
    value >= range.low &&
    value <= range.high &&
    (!range.whole || Number.isInteger(value))
  ) {
    return value;
  }
  const unit = range.unit === undefined ? '' : ` ${range.unit}`;
  const kind = range.whole ? 'a whole number' : 'a number';
  throw new UsageError(
    `Option --${name} must be ${kind} from ${range.low} to ${range.high}${unit}; received "${text.slice(0, 40)}".`,
  );
}
