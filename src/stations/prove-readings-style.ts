import { css } from 'lit';

export const proveReadingsStyle = css`
  :host {
    display: block;
    font-variant-numeric: tabular-nums;
  }
  .scroll {
    overflow-x: auto;
    max-height: 480px;
    overflow-y: auto;
  }
  .scroll:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 2px;
  }
  table {
    border-collapse: collapse;
    width: 100%;
  }
  th,
  td {
    padding: 1px 5px;
    text-align: right;
    border-bottom: 1px solid var(--rule);
    font-weight: 400;
    white-space: nowrap;
  }
  thead th {
    position: sticky;
    top: 0;
    z-index: 1;
    background: var(--paper);
    color: var(--soft);
    font-size: var(--size-small, 13px);
    vertical-align: bottom;
  }
  th[scope='row'] {
    color: var(--soft);
    padding-left: 0;
  }
  tr.read > * {
    background: var(--grid);
  }
  input[type='text'] {
    font: inherit;
    color: inherit;
    text-align: right;
    background: none;
    border: 0;
    border-bottom: 1px dashed transparent;
    padding: 2px 0;
    width: 5.6ch;
    min-height: 24px;
  }
  input[type='text']:hover {
    border-bottom-color: var(--soft);
  }
  input[aria-invalid='true'] {
    color: var(--bad);
    border-bottom: 1px solid var(--bad);
  }
  input:focus-visible,
  button:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 1px;
  }
  input[type='checkbox'] {
    accent-color: var(--ink);
    width: 17px;
    height: 17px;
    min-width: 24px;
  }
  /* As wide as what a fit says there, so that the columns stand still when it comes. */
  .off {
    text-align: left;
    color: var(--soft);
    min-width: 13em;
  }
  .bad {
    color: var(--bad);
    font-weight: 600;
  }
  tr.said td {
    text-align: left;
    color: var(--bad);
    font-size: var(--size-small, 13px);
    white-space: normal;
  }
  button {
    all: unset;
    cursor: pointer;
    color: var(--soft);
    min-width: 24px;
    min-height: 24px;
    text-align: center;
  }
  button:hover {
    color: var(--ink);
  }
`;
