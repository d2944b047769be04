import { css } from 'lit';

/** The board on which a picture is traced. */
export const traceStyle = css`
  .drop {
    border: 1px dashed var(--soft);
    padding: 18px 20px;
    margin: 0 0 12px;
    max-width: 960px;
  }
  .drop.over {
    border-color: var(--ink);
    background: var(--grid);
  }
  .drop p {
    margin: 0 0 8px;
  }
  button.do {
    margin-bottom: 10px;
  }
  .drop p:last-of-type {
    margin: 0;
  }
  input[type='file'] {
    position: absolute;
    width: 1px;
    height: 1px;
    opacity: 0;
  }
  .wrong {
    color: var(--bad);
    overflow-wrap: anywhere;
  }
  oc-trace-board {
    margin: 4px 0 10px;
    max-width: 960px;
  }
  .tools button.quiet[disabled] {
    color: var(--soft);
    text-decoration: none;
    cursor: default;
  }
  dl {
    display: flex;
    flex-wrap: wrap;
    gap: 6px 34px;
    margin: 0 0 10px;
  }
  dt {
    color: var(--soft);
    font-size: var(--size-small, 13px);
  }
  dd {
    margin: 0;
    font-size: var(--size-number, 19px);
    font-weight: 500;
    font-variant-numeric: tabular-nums;
  }
`;
