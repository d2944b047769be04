import { css } from 'lit';

/** What number fields share: plain numbers on a dashed line, a ring for the keyboard, one colour for what is wrong. */
export const numberStyle = css`
  .entry {
    position: relative;
    display: inline-grid;
    max-width: 100%;
  }
  .entry > * {
    grid-area: 1 / 1;
    font: inherit;
    letter-spacing: inherit;
    padding: 0 1px;
  }
  /* Gives the field the width of its text: the input itself lies over it. */
  .entry .width {
    visibility: hidden;
    white-space: pre;
    min-width: max(2ch, 24px);
    /* Longer than any number with its unit: pasted text scrolls in its field instead of covering the drawing. */
    max-width: 14ch;
    overflow: clip;
  }
  input {
    all: unset;
    box-sizing: border-box;
    /* No width of its own: a text field would ask for twenty characters. */
    width: 0;
    min-width: 100%;
    color: inherit;
    font-variant-numeric: tabular-nums;
    border-bottom: 1px dashed var(--soft);
    cursor: text;
  }
  /* As high as a finger's target must be (WCAG 2.2, 2.5.8), into the room above. */
  .entry > input {
    min-height: 24px;
    padding-top: 4px;
    margin-top: -4px;
  }
  input:hover {
    border-bottom-style: solid;
  }
  input:focus {
    border-bottom: 1px solid var(--ink);
    box-shadow: 0 1px 0 var(--ink);
  }
  input:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
    border-radius: 1px;
  }
  input[aria-invalid='true'] {
    color: var(--bad);
    border-bottom: 2px solid var(--bad);
  }
  input:disabled {
    border-bottom-color: transparent;
    cursor: default;
  }
`;
