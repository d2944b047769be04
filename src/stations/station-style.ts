import { css } from 'lit';

/** What every station shares: the answer, the figures beneath it, quiet buttons. */
export const stationStyle = css`
  :host {
    display: block;
  }
  oc-answer {
    margin: 20px 0 16px;
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
