import { css } from 'lit';

export const proveStyle = css`
  .bench {
    margin-bottom: 20px;
  }
  .figs {
    display: grid;
    grid-template-columns: minmax(0, 1.15fr) minmax(0, 1fr);
    gap: 26px 40px;
    align-items: start;
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: 6px 22px;
    align-items: center;
    margin: 8px 0 0;
  }
  oc-note {
    margin-top: 10px;
  }
  .tools label {
    display: inline-flex;
    gap: 8px;
    align-items: center;
    min-height: 24px;
  }
  .tools input[type='checkbox'] {
    accent-color: var(--ink);
    width: 17px;
    height: 17px;
  }
  .paste {
    margin: 8px 0 0;
  }
  .paste summary {
    cursor: pointer;
    color: var(--soft);
    width: max-content;
    max-width: 100%;
  }
  textarea {
    font: 400 var(--size-small, 13px) / 1.5 ui-monospace, monospace;
    color: var(--ink);
    background: var(--sheet);
    border: 1px solid var(--rule);
    border-radius: 3px;
    width: 100%;
    box-sizing: border-box;
    min-height: 8em;
    margin: 8px 0;
  }
  textarea:focus-visible,
  summary:focus-visible,
  input:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 2px;
  }
  .meters {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 14px;
    align-items: baseline;
    color: var(--soft);
    margin: 8px 0 0;
  }
  ul,
  ol {
    margin: 4px 0 12px;
    padding-left: 1.3em;
  }
  li {
    margin: 2px 0;
  }
  h3 {
    font: 600 var(--size-text, 15px) / 1.45 var(--font-text);
    margin: 14px 0 2px;
  }
  .bad {
    color: var(--bad);
  }
  .soft {
    color: var(--soft);
  }
  table.follows {
    border-collapse: collapse;
    font-variant-numeric: tabular-nums;
  }
  .follows th,
  .follows td {
    text-align: right;
    font-weight: 400;
    padding: 3px 0 3px 20px;
    border-bottom: 1px solid var(--rule);
  }
  .follows th[scope='row'] {
    text-align: left;
    color: var(--soft);
    padding-left: 0;
  }
  .follows td.name {
    text-align: left;
    color: var(--soft);
    padding-left: 0;
  }
  .first {
    max-width: 68ch;
  }
  .use {
    margin: 18px 0 0;
  }
  .use summary {
    cursor: pointer;
    font: 600 var(--size-text, 15px) / 1.45 var(--font-text);
    width: max-content;
    max-width: 100%;
  }
  .use p {
    max-width: 68ch;
  }
  .sideways {
    overflow-x: auto;
  }
  .follows thead th {
    color: var(--soft);
    font-size: var(--size-small, 13px);
  }
  .below {
    display: grid;
    grid-template-columns: repeat(3, minmax(0, 1fr));
    gap: 0 40px;
    margin-top: 12px;
  }
  .above {
    margin: 0 0 8px;
  }
  input[type='file'] {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
  }
  @media (max-width: 900px) {
    .figs,
    .below {
      grid-template-columns: minmax(0, 1fr);
    }
  }
`;
