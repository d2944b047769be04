import { css } from 'lit';

/** What every station shares: the answer, the figures beneath it, quiet buttons. */
export const stationStyle = css`
  :host {
    display: block;
  }
  oc-answer {
    margin: 20px 0 16px;
  }
  .words {
    white-space: nowrap;
    --word-line: var(--rule);
  }
  details.layers {
    margin-top: 8px;
  }
  details.layers summary {
    cursor: pointer;
    color: var(--soft);
    width: max-content;
    max-width: 100%;
  }
  details.layers summary:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
    border-radius: 2px;
  }
  details.layers table {
    border-collapse: collapse;
    margin: 6px 0;
  }
  details.layers th,
  details.layers td {
    text-align: left;
    padding: 3px 18px 3px 0;
    font-weight: 400;
  }
  details.layers th {
    color: var(--soft);
    font-size: var(--size-small, 13px);
    padding-bottom: 0;
  }
  details.layers input {
    font: inherit;
    color: inherit;
    background: none;
    border: 0;
    border-bottom: 1px dashed var(--soft);
    padding: 1px 0;
    width: 12ch;
    max-width: 34vw;
    min-height: 24px;
  }
  details.layers input:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 2px;
  }
  button.quiet {
    all: unset;
    cursor: pointer;
    color: var(--ink);
    text-decoration: underline;
    text-decoration-color: var(--rule);
    text-underline-offset: 3px;
  }
  button.quiet:hover {
    text-decoration-color: var(--ink);
  }
  button.quiet:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
  }
`;
