import { css } from 'lit';

/** The questions below the Pair station's figures. */
export const rivalsStyle = css`
  .question {
    display: grid;
    grid-template: auto 1fr / 13.5rem minmax(0, 1fr);
    gap: 4px 40px;
    padding: 22px 0 12px;
  }
  h2 {
    font: 400 clamp(19px, 1.55vw, 22px) / 1.2 var(--font-book);
    margin: 0;
    text-wrap: balance;
  }
  .body {
    grid-area: 1 / 2 / 3;
    min-width: 0;
  }
  p {
    margin: 0 0 12px;
    max-width: 70ch;
    text-wrap: pretty;
  }
  .answers {
    margin-top: 2px;
  }
  summary {
    cursor: pointer;
    width: max-content;
    max-width: 100%;
    min-height: 24px;
  }
  summary:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
  }
  .method summary {
    color: var(--soft);
    font-size: var(--size-small, 13px);
  }
  .method p {
    margin: 4px 0 8px;
    font-size: var(--size-small, 13px);
  }
  /* A field keeps a line beneath it for what is wrong with it, which is distance enough. */
  .choices:has(oc-unit-field) {
    margin-bottom: 0;
  }
  .form[open] > summary {
    margin-bottom: 10px;
  }
  .soft {
    color: var(--soft);
  }
  .verdict {
    font: 400 19px/1.4 var(--font-book);
    max-width: 40em;
  }
  .verdict .small {
    display: block;
    font-family: var(--font-text);
    margin-top: 2px;
  }
  oc-figure {
    display: block;
    margin-top: 16px;
  }
  .act {
    display: flex;
    flex-wrap: wrap;
    gap: 6px 22px;
    align-items: center;
    margin: 0 0 12px;
  }
  button.do {
    font: 500 var(--size-text, 15px) / 1.4 var(--font-text);
    color: var(--paper);
    background: var(--ink);
    border: 1px solid var(--ink);
    border-radius: 3px;
    padding: 5px 14px;
    cursor: pointer;
  }
  button.do:hover {
    background: color-mix(in srgb, var(--ink) 86%, var(--paper));
  }
  button.do:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
  }
  .wide {
    overflow-x: auto;
    outline-offset: -2px;
  }
  table {
    border-collapse: collapse;
    width: 100%;
    font-variant-numeric: tabular-nums;
    margin: 14px 0 8px;
  }
  th,
  td {
    text-align: left;
    font-weight: 400;
    padding: 6px 16px 6px 0;
    border-bottom: 1px solid var(--rule);
    vertical-align: top;
  }
  thead th {
    color: var(--soft);
    font-size: var(--size-small, 13px);
    white-space: nowrap;
  }
  tbody th {
    font-weight: 600;
    min-width: 11em;
  }
  td.nums {
    white-space: nowrap;
  }
  .small {
    font-size: var(--size-small, 13px);
    color: var(--soft);
    font-weight: 400;
  }
  th button.small {
    margin-left: 8px;
    color: var(--ink);
    min-height: 24px;
  }
  .fields {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(150px, 1fr));
    gap: 4px 24px;
    margin: 0;
    max-width: 960px;
  }
  .choices {
    display: flex;
    flex-wrap: wrap;
    gap: 8px 40px;
    margin: 0 0 10px;
  }
  ul.lines {
    margin: 6px 0 10px;
    padding-left: 1.1em;
    max-width: 70ch;
  }
  ul.lines li {
    margin: 3px 0;
  }
  @media (max-width: 1060px) {
    .question {
      grid-template: auto / minmax(0, 1fr);
      gap: 8px;
      padding: 18px 0 10px;
    }
    .body {
      grid-area: auto;
    }
    .method {
      margin-top: -6px;
    }
  }
  @media (max-width: 720px) {
    table,
    tbody,
    tr,
    th,
    td {
      display: block;
    }
    thead {
      display: none;
    }
    tr {
      border-bottom: 1px solid var(--rule);
      padding: 8px 0;
    }
    th,
    td {
      border: 0;
      padding: 2px 0;
    }
    td[data-name]::before {
      content: attr(data-name) ': ';
      color: var(--soft);
    }
    td.nums {
      white-space: normal;
    }
  }
`;
