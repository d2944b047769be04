import { css } from 'lit';

export const proveStyle = css`
  .run {
    display: grid;
    align-items: center;
  }
  .run > * {
    grid-area: 1 / 1;
  }
  .run > button {
    justify-self: start;
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
  .print {
    max-width: 68ch;
  }
  /* Three columns; the sheets to print stand beneath the first, which is the shortest. On a narrow page last. */
  .below {
    display: grid;
    grid-template-columns: repeat(3, minmax(0, 1fr));
    grid-template-rows: auto 1fr;
    gap: 0 40px;
    margin-top: 12px;
    min-height: 280px;
  }
  .after {
    grid-area: 1 / 1;
    min-height: 190px;
  }
  .fixed {
    grid-area: 1 / 2 / span 2;
  }
  .next {
    grid-area: 1 / 3 / span 2;
  }
  .below .print {
    grid-area: 2 / 1;
  }
  .above {
    margin: 0 0 8px;
  }
  @media (max-width: 900px) {
    .figs,
    .below {
      grid-template-columns: minmax(0, 1fr);
    }
    .below {
      grid-template-rows: none;
    }
    .after,
    .fixed,
    .next,
    .below .print {
      grid-area: auto;
    }
  }
`;
