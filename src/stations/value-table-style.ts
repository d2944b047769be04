import { css } from 'lit';

/** A table of values: names at the left, numbers at the right, a fine line beneath each row. */
export const valueTableStyle = css`
  table {
    border-collapse: collapse;
    width: 100%;
    font-variant-numeric: tabular-nums;
  }
  th,
  td {
    padding: 4px 0 4px 10px;
    text-align: right;
    border-bottom: 1px solid var(--rule);
    font-weight: 400;
    vertical-align: top;
  }
  th[scope='row'] {
    text-align: left;
    color: var(--soft);
    padding-left: 0;
  }
`;
