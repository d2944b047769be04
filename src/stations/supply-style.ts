import { css } from 'lit';

/** What the supply choice and the sensitivities share. */
export const supplyStyle = css`
  :host {
    display: block;
    min-width: 0;
    color: var(--ink);
    font: 400 var(--size-text, 15px) / 1.45 var(--font-text);
  }
  p {
    margin: 0 0 8px;
    max-width: 66ch;
  }
  p.soft {
    color: var(--soft);
    font-size: var(--size-small, 13px);
  }
  p.failed {
    color: var(--bad);
  }
  .scroll {
    overflow-x: auto;
  }
  thead th {
    width: 22%;
    font-weight: 500;
  }
  .taken {
    font-weight: 650;
  }
  .band {
    display: block;
    color: var(--soft);
    font-weight: 400;
    font-size: var(--size-small, 13px);
    line-height: 1.25;
    white-space: nowrap;
  }
  .bad {
    color: var(--bad);
  }
  ul {
    margin: 10px 0 0;
    padding: 0;
    list-style: none;
    color: var(--soft);
    font-size: var(--size-small, 13px);
  }
  li {
    margin: 0 0 4px;
    max-width: 80ch;
  }
  .fields {
    display: flex;
    flex-wrap: wrap;
    align-items: start;
    gap: 4px 22px;
    margin: 10px 0 0;
  }
  .fields oc-unit-field {
    width: 5.6em;
  }
  .fields button {
    align-self: center;
    line-height: 24px;
  }
  td button.quiet {
    line-height: 24px;
  }
  .legend {
    display: flex;
    flex-wrap: wrap;
    gap: 2px 18px;
    color: var(--soft);
    font-size: var(--size-small, 13px);
    margin: 4px 0 0;
  }
  .legend i {
    display: inline-block;
    width: 14px;
    height: 10px;
    margin-right: 6px;
    border: 1.4px solid var(--ink);
  }
  .legend i.more {
    background: var(--ink);
  }
  oc-choice {
    margin: 0 0 6px;
  }
  oc-note {
    margin-top: 10px;
  }
`;
