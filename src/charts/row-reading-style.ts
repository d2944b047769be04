import { css } from 'lit';

/** Drawings in rows that are read one by one. */
export const rowReadingStyle = css`
  .row {
    fill: var(--grid);
  }
  text.name {
    fill: var(--ink);
  }
  .handle {
    pointer-events: none;
  }
`;
