import { css } from 'lit';

/** Sized for A4 and letter alike: what fits 186 mm across and 250 mm down. On screen the same sheet, lying on the page. */
export const reportStyle = css`
  :host {
    display: block;
  }
  article {
    background: var(--sheet);
    border: 1px solid var(--rule);
    max-width: 760px;
    margin: 24px auto 0;
    padding: 26px 30px 30px;
    font-size: 12.5px;
    line-height: 1.38;
  }
  header {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 2px 16px;
    border-bottom: 1.5px solid var(--ink);
    padding-bottom: 5px;
  }
  h1 {
    font: 620 20px/1.25 var(--font-book);
    margin: 0;
    flex: 1 1 auto;
    overflow-wrap: anywhere;
  }
  header p {
    margin: 0;
    color: var(--soft);
  }
  .print {
    all: unset;
    cursor: pointer;
    text-decoration: underline;
    text-underline-offset: 3px;
  }
  .print {
    min-width: 9.5em;
    text-align: right;
  }
  .print:disabled {
    color: var(--soft);
    text-decoration: none;
    cursor: default;
  }
  .print:focus-visible {
    outline: 2px solid var(--ink);
    outline-offset: 3px;
  }
  h2,
  figcaption,
  caption {
    font: 600 12.5px/1.4 var(--font-text);
    margin: 0 0 2px;
    text-align: left;
  }
  .answer {
    font: 400 17px/1.32 var(--font-book);
    margin: 10px 0 4px;
    min-height: 1.32em;
  }
  .why {
    min-height: 2.76em;
  }
  .answer small {
    font-size: 0.74em;
    color: var(--soft);
  }
  .why {
    margin: 0 0 10px;
    color: var(--soft);
  }
  .why b,
  .why small {
    font-weight: 400;
    font-size: inherit;
  }
  .figs,
  .below {
    display: grid;
    grid-template-columns: minmax(0, 1.05fr) minmax(0, 1fr);
    gap: 6px 26px;
  }
  .below {
    grid-template-columns: minmax(0, 0.85fr) minmax(0, 1.2fr);
    margin-top: 8px;
    align-items: start;
  }
  .operating {
    margin-bottom: 8px;
    font-size: 12.5px;
  }
  /* Room for the cautions that come with the numbers. */
  .coming .cautions {
    min-height: 300px;
  }
  figure {
    margin: 0 0 6px;
  }
  .figs [slot] {
    font-size: 10.5px;
    white-space: nowrap;
  }
  table {
    border-collapse: collapse;
    width: 100%;
    font-variant-numeric: tabular-nums;
  }
  th,
  td {
    padding: 1.5px 0 1.5px 8px;
    text-align: right;
    font-weight: 400;
    border-bottom: 1px solid var(--rule);
    white-space: nowrap;
  }
  /* The columns stand where they are when the numbers come. */
  .numbers,
  .operating {
    table-layout: fixed;
  }
  .numbers thead td {
    width: 28%;
  }
  .numbers td {
    white-space: normal;
  }
  th[scope='row'] {
    text-align: left;
    color: var(--soft);
    padding-left: 0;
    white-space: normal;
  }
  th[scope='row']::first-letter {
    text-transform: uppercase;
  }
  ul {
    margin: 0 0 5px;
    padding-left: 14px;
  }
  .below section {
    font-size: 11px;
    line-height: 1.32;
  }
  .inputs {
    margin-top: 8px;
    border-top: 1px solid var(--ink);
    padding-top: 5px;
    font-size: 9.6px;
    line-height: 1.26;
    columns: 3;
    column-gap: 18px;
    color: var(--soft);
  }
  .inputs h2 {
    color: var(--ink);
  }
  .inputs p {
    margin: 0 0 2px;
  }
  .inputs b,
  .inputs i {
    font-style: normal;
    color: var(--ink);
    font-weight: 600;
  }
  .inputs i {
    font-weight: 500;
    white-space: nowrap;
  }
  @media (max-width: 640px) {
    article {
      padding: 16px 12px;
    }
    .print {
      min-width: 0;
    }
    .answer {
      min-height: 3.96em;
    }
    .why {
      min-height: 8.3em;
    }
    .figs,
    .below {
      grid-template-columns: minmax(0, 1fr);
    }
    .inputs {
      columns: 1;
    }
  }
  /* A phone shows the sheet's words in the page's sizes, not in those of the paper. */
  @media screen and (max-width: 640px) {
    article {
      font-size: 14px;
    }
    .below section,
    .inputs {
      font-size: 13px;
      line-height: 1.42;
    }
    .inputs p {
      margin-bottom: 8px;
    }
  }
  @media screen and (max-width: 360px) {
    th,
    td {
      white-space: normal;
    }
  }
  @media print {
    .answer,
    .why {
      min-height: 0;
    }
    article {
      border: 0;
      margin: 0;
      padding: 0;
      max-width: none;
      /* All of it on one sheet. */
      zoom: 0.81;
    }
    .print {
      display: none;
    }
    .figs,
    .below {
      break-inside: avoid;
    }
  }
`;
