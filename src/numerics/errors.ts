/** What an error says about the value that caused it. All fields are plain data so that they survive a worker boundary. */
export interface FaultDetail {
  /** Stable kebab-case identifier, never shown alone. */
  readonly code: string;
  /** Path of the input, for example `transmitter.coil.turns`; empty where no single input is at fault. */
  readonly path: string;
  /** What is required, in words with its unit: `a number from 0.05 to 1000 mm`. */
  readonly required: string;
  /** What came, printed with its unit. */
  readonly received: string;
  /** What the user could do about it. Optional. */
  readonly hint?: string;
}

/** Text as it may stand in a message: at most `maximum` characters, control and direction marks written out. */
export function safeText(text: string, maximum = 60): string {
  const cut = text.length > maximum ? `${text.slice(0, maximum)}...` : text;
  return cut.replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Zl}\p{Zp}]/gu, (c) => `\\u{${(c.codePointAt(0) ?? 0).toString(16)}}`);
}

/** One line: `path: must be REQUIRED; received RECEIVED. HINT`. */
export function faultLine(fault: FaultDetail): string {
  const subject = fault.path === '' ? 'design' : fault.path;
  return `${subject}: must be ${fault.required}; received ${fault.received}.${fault.hint ? ` ${fault.hint}` : ''}`;
}

/** The input is wrong and its owner can mend it. */
export class InputError extends Error {
  override readonly name = 'InputError';
  readonly faults: readonly FaultDetail[];
  constructor(...faults: readonly FaultDetail[]) {
    super(faults.map(faultLine).join('\n'));
    this.faults = faults;
  }
}

/** A method did not reach its tolerance. Carries what it had reached. */
export class ConvergenceError extends Error {
  override readonly name = 'ConvergenceError';
  readonly code: string;
  readonly diagnostics: Readonly<Record<string, number | string>>;
  constructor(code: string, message: string, diagnostics: Readonly<Record<string, number | string>> = {}) {
    super(message);
    this.code = code;
    this.diagnostics = diagnostics;
  }
}
