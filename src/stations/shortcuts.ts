/** What can be done from the keyboard anywhere on the page; also the list that is shown. */
export interface Shortcut {
  readonly id: 'undo' | 'redo' | 'save' | 'open' | 'keys';
  readonly keys: string;
  readonly does: string;
  readonly matches: (event: KeyboardEvent) => boolean;
}

const held = (event: KeyboardEvent): boolean => (event.ctrlKey || event.metaKey) && !event.altKey;
/** By the letter; where the layout's letters are not Latin, by the place of the key. */
const key = (event: KeyboardEvent, name: string): boolean =>
  event.key.toLowerCase() === name || (/^[^\0-\x7f]$/.test(event.key) && event.code === `Key${name.toUpperCase()}`);

export const SHORTCUTS: readonly Shortcut[] = Object.freeze([
  {
    id: 'undo',
    keys: 'Ctrl Z',
    does: 'Take the last step back',
    matches: (event) => held(event) && !event.shiftKey && key(event, 'z'),
  },
  {
    id: 'redo',
    keys: 'Ctrl Shift Z, Ctrl Y',
    does: 'Make the step again',
    matches: (event) => held(event) && ((event.shiftKey && key(event, 'z')) || key(event, 'y')),
  },
  {
    id: 'save',
    keys: 'Ctrl S',
    does: 'Save the design as a file',
    matches: (event) => held(event) && !event.shiftKey && key(event, 's'),
  },
  {
    id: 'open',
    keys: 'Ctrl O',
    does: 'Open a design file',
    matches: (event) => held(event) && !event.shiftKey && key(event, 'o'),
  },
  {
    id: 'keys',
    keys: 'Ctrl /',
    does: 'Show this list',
    matches: (event) => held(event) && key(event, '/'),
  },
]);

/** Keys that work on what has the focus: for the list only. */
export const HANDLE_KEYS: readonly { readonly keys: string; readonly does: string }[] = Object.freeze([
  { keys: 'Tab', does: 'To the next handle, number or link' },
  { keys: 'Arrow keys', does: 'Move a handle; with Shift in fine steps, Page Up and Page Down in coarse ones' },
  { keys: 'Home', does: 'Bring a handle back to the middle' },
  { keys: 'Esc', does: 'While dragging: take it back' },
  { keys: 'Enter', does: 'Take over the number typed; Esc puts the old one back' },
]);
