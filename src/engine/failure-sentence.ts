/** What the browsers say when a part of the program cannot be fetched: there is no name or code to go by. */
const NOT_FETCHED = /dynamically imported module|importing a module script failed|failed to fetch|networkerror/i;
/** And when an array or a WebAssembly memory does not get its room. */
const NO_ROOM = /alloc|array (buffer )?length|array size|memory/i;

/** Whether something failed because the machine, or the browser, had no memory left for it. */
export function isOutOfMemory(error: unknown): boolean {
  if (!(error instanceof Error)) return false;
  return (error.name === 'RangeError' && NO_ROOM.test(error.message)) || /out of memory/i.test(error.message);
}

/**
 * One plain sentence or two for an error that nobody expected, instead of the engine's own words. Errors that have been
 * through a worker border are told by their name: they are no longer of their class.
 */
export function failureSentence(error: unknown): string {
  if (isOutOfMemory(error)) {
    return 'There was not enough memory for this calculation. Your design is untouched; close other pages or programs, then try again.';
  }
  const told = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  if (NOT_FETCHED.test(told)) {
    return 'A part of the program could not be fetched. Your design is untouched; look at the connection, then load the page anew.';
  }
  return `A fault of the program stopped this calculation (${short(told)}). Your design is untouched; change something or try again.`;
}

/**
 * The same for what nobody caught anywhere on the page; null where there is nothing to tell: something was stopped on purpose,
 * or the browser only remarks on its own work.
 */
export function uncaughtSentence(error: unknown): string | null {
  if (!(error instanceof Error) || error.name === 'AbortError') return null;
  const told = `${error.name}: ${error.message}`;
  if (isOutOfMemory(error) || NOT_FETCHED.test(told)) return failureSentence(error);
  return `A fault of the program met something on this page (${short(told)}). Your work is kept; if something looks wrong, load the page anew.`;
}

function short(told: string): string {
  return told.split('\n')[0]?.slice(0, 120) ?? '';
}
